"""Registers the slice with Django."""

from django.apps import AppConfig


class SeasonConfig(AppConfig):
    name = "workshops.season"
    label = "season"
