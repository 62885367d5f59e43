"""Registers the slice with Django, and its page with the nights."""

from django.apps import AppConfig

from workshops.common.night_pages import NightPage, add


class TroubleConfig(AppConfig):
    name = "workshops.trouble"
    label = "trouble"

    def ready(self) -> None:
        """Put trouble on the strip of a night, for everybody who sees the night."""
        add(NightPage("Trouble", "trouble:night", "see_nights", 80))
