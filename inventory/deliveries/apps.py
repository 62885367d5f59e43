"""Registers the slice with Django."""

from django.apps import AppConfig


class DeliveriesConfig(AppConfig):
    name = "inventory.deliveries"
    label = "deliveries"
