"""Registers the slice with Django."""

from django.apps import AppConfig


class CuttingConfig(AppConfig):
    name = "inventory.cutting"
    label = "cutting"
