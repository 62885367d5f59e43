"""Registers the slice with Django, and every slice's jobs."""

from django.apps import AppConfig
from django.utils.module_loading import autodiscover_modules


class CommonConfig(AppConfig):
    name = "workshops.common"
    label = "common"

    def ready(self) -> None:
        """Import each slice's ``tasks.py``, so that the jobs in it are known."""
        autodiscover_modules("tasks")
