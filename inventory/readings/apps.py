"""Registers the slice with Django."""

from django.apps import AppConfig


class ReadingsConfig(AppConfig):
    name = "inventory.readings"
    label = "readings"
