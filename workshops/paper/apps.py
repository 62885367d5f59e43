"""Registers the slice with Django."""

from django.apps import AppConfig


class PaperConfig(AppConfig):
    name = "workshops.paper"
    label = "paper"
