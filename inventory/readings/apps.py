"""Registers the slice with Django."""

from django.apps import AppConfig

from inventory.ledger.seal import SEALS
from inventory.readings.seal import SEAL


class ReadingsConfig(AppConfig):
    name = "inventory.readings"
    label = "readings"

    def ready(self) -> None:
        """Let ``flush`` break the seal when it empties everything."""
        SEALS.append(SEAL.unsealed)
