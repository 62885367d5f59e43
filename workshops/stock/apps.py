"""Registers the slice with Django."""

from django.apps import AppConfig


class StockConfig(AppConfig):
    name = "workshops.stock"
    label = "stock"
