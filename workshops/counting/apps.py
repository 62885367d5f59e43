"""Registers the slice with Django, its page with the strip of a night, its files with tablets."""

from django.apps import AppConfig

from workshops.common import offline
from workshops.common.night_pages import NightPage, add

FILES = ("tally.css", "tally.js", "outbox.js", "store.js")


class CountingConfig(AppConfig):
    name = "workshops.counting"
    label = "counting"

    def ready(self) -> None:
        """The tally is shown, and counts, with the network down."""
        add(NightPage("Tally", "counting:tally", "run_night", 40))
        offline.add_files(*(f"counting/{name}" for name in FILES))
