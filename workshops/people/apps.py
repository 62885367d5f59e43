"""Registers the slice with Django."""

from django.apps import AppConfig


class PeopleConfig(AppConfig):
    name = "workshops.people"
    label = "people"
