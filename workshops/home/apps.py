"""Registers the slice with Django."""

from django.apps import AppConfig


class HomeConfig(AppConfig):
    name = "workshops.home"
    label = "home"
