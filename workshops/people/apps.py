"""Registers the slice with Django."""

from django.apps import AppConfig

from inventory.ledger.seal import SEALS
from workshops.people import seal


class PeopleConfig(AppConfig):
    name = "workshops.people"
    label = "people"

    def ready(self) -> None:
        """Let ``flush`` break the seal on the register when it empties everything."""
        SEALS.append(seal.unsealed)
