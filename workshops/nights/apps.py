"""Registers the slice with Django."""

from django.apps import AppConfig


class NightsConfig(AppConfig):
    name = "workshops.nights"
    label = "nights"
