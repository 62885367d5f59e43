"""Registers the slice with Django, and its pages with the strip of a night."""

from django.apps import AppConfig

from inventory.ledger.seal import SEALS
from workshops.common.night_pages import NightPage, add
from workshops.common.offline import add_files
from workshops.nights.permit.seal import SEAL

PAGES = (
    NightPage("Board", "nights:night", "see_nights", 20),
    NightPage("Roll", "nights:roll", "run_night", 30),
    NightPage("Permit", "nights:permit", "run_night", 60),
)
# Of the pages that work with the network down.
KEPT = ("nights/roll.css", "nights/kept_taps.js", "nights/roll.js", "nights/evacuation.js",
        "nights/permit.css", "nights/permit.js")  # fmt: skip


class NightsConfig(AppConfig):
    name = "workshops.nights"
    label = "nights"

    def ready(self) -> None:
        """Put the night's pages on its strip: Tonight 10, Flow 50, Checks 70, Trouble 80."""
        SEALS.append(SEAL.unsealed)
        for page in PAGES:
            add(page)
        add_files(*KEPT)
