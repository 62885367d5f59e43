"""Registers the slice with Django."""

from django.apps import AppConfig


class TonightConfig(AppConfig):
    name = "workshops.tonight"
    label = "tonight"
