"""Registers the slice with Django, and its page with the nights."""

from django.apps import AppConfig

from workshops.common.night_pages import NightPage, add


class LockupConfig(AppConfig):
    name = "workshops.lockup"
    label = "lockup"

    def ready(self) -> None:
        """Put the close-out last on the strip of a night."""
        add(NightPage("Close", "lockup:close", "run_night", 90))
