"""Registers the slice with Django."""

from django.apps import AppConfig


class MaterialsConfig(AppConfig):
    name = "inventory.materials"
    label = "materials"
