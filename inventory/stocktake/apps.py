"""Registers the slice with Django."""

from django.apps import AppConfig

from inventory.ledger.seal import SEALS
from inventory.stocktake.seal import SEAL


class StocktakeConfig(AppConfig):
    name = "inventory.stocktake"
    label = "stocktake"

    def ready(self) -> None:
        """Let ``flush`` break the seal when it empties everything."""
        SEALS.append(SEAL.unsealed)
