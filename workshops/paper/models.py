"""Papers that were made, so that they can be fetched again."""

from __future__ import annotations

from django.db import models
from django.utils import timezone

from inventory.places.models import OfShop
from workshops.nights.models import Night


class Paper(OfShop):
    """One PDF or picture the site made."""

    class Kind(models.TextChoices):
        CARDS = "cards", "station cards"
        CUT_LIST = "cut_list", "cut list"
        OUTLOOK = "outlook", "outlook picture"
        COUNT_SHEETS = "count", "count sheets"
        ORDER = "order", "purchase order"
        LABELS = "labels", "labels"
        TROUBLE = "trouble", "blank incident sheet"
        PERMIT = "permit", "hot-work permit"
        TALLY = "tally", "tally sheet"

    kind = models.CharField(max_length=8, choices=Kind.choices)
    night = models.ForeignKey(Night, models.CASCADE, null=True, blank=True, related_name="papers")
    file = models.FileField(upload_to="papers/%Y/%m/")
    pages = models.PositiveSmallIntegerField(default=1)
    made_at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["-made_at"]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} ({self.made_at:%Y-%m-%d %H:%M})"
