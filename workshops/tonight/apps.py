"""Registers the slice with Django, and its page with the strip of a night."""

from django.apps import AppConfig

from workshops.common.night_pages import NightPage, add


class TonightConfig(AppConfig):
    name = "workshops.tonight"
    label = "tonight"

    def ready(self) -> None:
        """Put “Tonight” first on the strip of a night."""
        add(NightPage("Tonight", "tonight:tonight", "run_night", 10))
