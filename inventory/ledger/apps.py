"""Registers the slice with Django."""

from django.apps import AppConfig


class LedgerConfig(AppConfig):
    name = "inventory.ledger"
    label = "ledger"
