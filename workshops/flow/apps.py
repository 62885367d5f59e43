"""Registers the slice with Django, and its page with the strip of a night."""

from django.apps import AppConfig

from workshops.common.night_pages import NightPage, add
from workshops.common.offline import add_files


class FlowConfig(AppConfig):
    name = "workshops.flow"
    label = "flow"

    def ready(self) -> None:
        """Put “Flow” between the tally and the permit, and keep its files for offline."""
        add(NightPage("Flow", "flow:board", "run_night", 50))
        add_files("flow/flow.css")
