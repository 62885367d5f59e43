"""Registers the slice with Django."""

from django.apps import AppConfig


class CommonConfig(AppConfig):
    name = "workshops.common"
    label = "common"
