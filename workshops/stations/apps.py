"""Registers the slice with Django."""

from django.apps import AppConfig


class StationsConfig(AppConfig):
    name = "workshops.stations"
    label = "stations"
