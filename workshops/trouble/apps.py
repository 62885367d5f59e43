"""Registers the slice with Django, and its page with the nights."""

from django.apps import AppConfig


class TroubleConfig(AppConfig):
    name = "workshops.trouble"
    label = "trouble"
