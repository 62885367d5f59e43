"""Registers the slice with Django."""

from django.apps import AppConfig


class StocktakeConfig(AppConfig):
    name = "inventory.stocktake"
    label = "stocktake"
