"""The kept runs of the cut-list engine, and what was cut by them."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.db.models import Q

from inventory.engines.models import EngineRun
from inventory.ledger.models import Entry
from inventory.materials.models import Item
from inventory.places.models import OfShop, Place


class CutListRun(OfShop, EngineRun):
    """One cut list: one material, for one night or for the rack."""

    item = models.ForeignKey(Item, models.PROTECT, related_name="cut_lists")
    night_key = models.CharField(max_length=20, blank=True, db_index=True)
    # The list itself never changes: what is still missing is worked out into another one.
    replaced_by = models.ForeignKey(
        "self", models.PROTECT, null=True, blank=True, related_name="replaces"
    )

    def __str__(self) -> str:
        return f"Cut list of {self.item}, {self.made_at:%Y-%m-%d}"


class TickQuerySet(models.QuerySet["CutTick"]):
    """Ticks that stand and those that were taken back."""

    def standing(self) -> TickQuerySet:
        """Those whose entry was not taken back, here or in the movements."""
        return self.filter(entry__correction__isnull=True)


class CutTick(OfShop):
    """Sticks of one pattern that were cut: one entry of the book."""

    class How(models.TextChoices):
        AS_DRAWN = "drawn", "cut as drawn"
        UNLIKE = "unlike", "stick was different"
        SCRAPPED = "scrapped", "stick thrown away"

    run = models.ForeignKey(CutListRun, models.PROTECT, related_name="ticks")
    pattern = models.PositiveSmallIntegerField(help_text="which of the list's patterns, from 0")
    sticks = models.PositiveIntegerField()
    how = models.CharField(max_length=8, choices=How.choices, default=How.AS_DRAWN)
    # Kept and not read from the pattern: a short stick gives fewer.
    pieces = models.JSONField(default=dict, help_text="pieces cut in all, by name")
    entry = models.OneToOneField(Entry, models.PROTECT, related_name="cut_tick")
    piece_place = models.ForeignKey(Place, models.PROTECT, related_name="+")
    drop_place = models.ForeignKey(Place, models.PROTECT, related_name="+")
    drop_um = models.PositiveBigIntegerField(default=0, help_text="0 when no drop was kept")
    # Written on the steel itself, so that the drop in the book is found in the rack.
    drop_number = models.PositiveIntegerField(null=True, blank=True)
    done_at = models.DateTimeField()
    done_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    client_key = models.UUIDField(editable=False)
    note = models.CharField(max_length=200, blank=True)

    objects = TickQuerySet.as_manager()

    class Meta:
        ordering = ["-pk"]
        constraints = [
            models.UniqueConstraint(fields=["shop", "client_key"], name="tick_key_once_a_shop"),
            models.UniqueConstraint(fields=["shop", "drop_number"], name="drop_number_once_a_shop"),
            models.CheckConstraint(condition=Q(sticks__gte=1), name="tick_of_one_stick_at_least"),
        ]

    def __str__(self) -> str:
        return f"{self.sticks} of pattern {self.pattern + 1}, {self.get_how_display()}"
