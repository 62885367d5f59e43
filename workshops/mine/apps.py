"""Registers the slice with Django."""

from django.apps import AppConfig


class MineConfig(AppConfig):
    name = "workshops.mine"
    label = "mine"
