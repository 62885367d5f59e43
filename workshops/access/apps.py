"""Registers the slice with Django."""

from django.apps import AppConfig


class AccessConfig(AppConfig):
    name = "workshops.access"
    label = "access"
