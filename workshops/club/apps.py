"""Registers the slice with Django."""

from django.apps import AppConfig


class ClubConfig(AppConfig):
    name = "workshops.club"
    label = "club"
