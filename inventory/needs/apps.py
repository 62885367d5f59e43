"""Registers the slice with Django."""

from django.apps import AppConfig


class NeedsConfig(AppConfig):
    name = "inventory.needs"
    label = "needs"
