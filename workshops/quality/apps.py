"""Registers the slice with Django, and its page with the nights."""

from django.apps import AppConfig

from inventory.ledger.seal import SEALS
from workshops.common.night_pages import NightPage, add
from workshops.quality.seal import SEAL


class QualityConfig(AppConfig):
    name = "workshops.quality"
    label = "quality"

    def ready(self) -> None:
        """Put the checks on the strip of a night; seal their rows."""
        SEALS.append(SEAL.unsealed)
        add(NightPage("Checks", "quality:checks", "run_night", 70))
