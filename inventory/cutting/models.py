"""The kept runs of the cut-list engine."""

from __future__ import annotations

from django.db import models

from inventory.engines.models import EngineRun
from inventory.materials.models import Item
from inventory.places.models import OfShop


class CutListRun(OfShop, EngineRun):
    """One cut list: one material, for one night or for the rack."""

    item = models.ForeignKey(Item, models.PROTECT, related_name="cut_lists")
    night_key = models.CharField(max_length=20, blank=True, db_index=True)

    def __str__(self) -> str:
        return f"Cut list of {self.item}, {self.made_at:%Y-%m-%d}"
