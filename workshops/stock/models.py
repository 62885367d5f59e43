"""Cut-overs: what was decided about everything that was made to the drawing before."""

from __future__ import annotations

import uuid

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone

from inventory.ledger.models import Condition, Entry
from inventory.materials.models import Item
from inventory.places.models import OfShop, Place
from workshops.stations.models import BuildSheet


class CutOver(OfShop):
    """One sitting: every part made to ``before`` got its fate when ``sheet`` came into force."""

    sheet = models.ForeignKey(BuildSheet, models.PROTECT, related_name="cut_overs")
    before = models.ForeignKey(BuildSheet, models.PROTECT, related_name="cut_overs_after")
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    at = models.DateTimeField(default=timezone.now)
    # The last entry of the book at that moment: whatever was used after it was used since.
    last_entry = models.PositiveBigIntegerField(default=0, editable=False)
    # Made by the form before it is sent, so that a tablet may send again.
    client_key = models.UUIDField(default=uuid.uuid4, editable=False)

    class Meta:
        ordering = ["-at", "-pk"]
        constraints = [
            models.UniqueConstraint(fields=["shop", "client_key"], name="cut_over_key_once_a_shop")
        ]

    def __str__(self) -> str:
        return f"{self.before.drawing_number} rev {self.before.revision} to {self.sheet.revision}"


class CutOverLine(models.Model):
    """What lay in one spot, and how many of it are used up, reworked and scrapped."""

    cut_over = models.ForeignKey(CutOver, models.PROTECT, related_name="lines")
    item = models.ForeignKey(Item, models.PROTECT, related_name="cut_over_lines")
    place = models.ForeignKey(Place, models.PROTECT, related_name="+")
    condition = models.CharField(max_length=4, choices=Condition.choices)
    quantity = models.DecimalField(max_digits=14, decimal_places=3, help_text="as it lay there")
    use_up = models.DecimalField(max_digits=14, decimal_places=3, default=0)
    rework = models.DecimalField(max_digits=14, decimal_places=3, default=0)
    scrap = models.DecimalField(max_digits=14, decimal_places=3, default=0)
    reason = models.CharField(max_length=120, blank=True)
    hold_entry = models.OneToOneField(
        Entry, models.PROTECT, null=True, blank=True, related_name="cut_over_hold"
    )
    scrap_entry = models.OneToOneField(
        Entry, models.PROTECT, null=True, blank=True, related_name="cut_over_scrap"
    )

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["cut_over", "item", "place", "condition"], name="cut_over_line_once_a_spot"
            ),
            models.CheckConstraint(
                condition=Q(use_up__gte=0, rework__gte=0, scrap__gte=0),
                name="cut_over_fates_not_negative",
            ),
            models.CheckConstraint(
                condition=Q(rework=0, scrap=0) | ~Q(reason=""), name="cut_over_line_says_why"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.quantity} × {self.item}"
