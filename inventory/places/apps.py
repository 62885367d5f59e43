"""Registers the slice with Django."""

from django.apps import AppConfig


class PlacesConfig(AppConfig):
    name = "inventory.places"
    label = "places"
