"""Winter, target, ice record and outlook run."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q
from django.utils import timezone

from inventory.engines.models import EngineRun
from inventory.materials.models import Item
from inventory.places.models import OfShop


class Winter(OfShop):
    """One season in the shop, with the band of dates by which the sets must be ready."""

    name = models.CharField(max_length=40)
    starts_on = models.DateField()
    ends_on = models.DateField()
    ready_from = models.DateField(help_text="the early edge of the ready-by band")
    ready_by = models.DateField(help_text="the late edge of the ready-by band")

    class Meta:
        ordering = ["-starts_on"]
        constraints = [
            models.UniqueConstraint(fields=["shop", "name"], name="winter_name_once_a_shop"),
            models.CheckConstraint(
                condition=Q(ends_on__gt=F("starts_on"))
                & Q(ready_by__gte=F("ready_from"))
                & Q(ready_from__gte=F("starts_on")),
                name="winter_dates_in_order",
            ),
        ]

    def __str__(self) -> str:
        return self.name


class Target(models.Model):
    """How many of one kind of set the winter wants: new, replacements and spares."""

    winter = models.ForeignKey(Winter, models.CASCADE, related_name="targets")
    item = models.ForeignKey(Item, models.PROTECT, related_name="targets")
    new = models.PositiveIntegerField(default=0)
    replacements = models.PositiveIntegerField(default=0)
    spares = models.PositiveIntegerField(default=0)

    class Meta:
        ordering = ["pk"]
        constraints = [models.UniqueConstraint(fields=["winter", "item"], name="target_once_a_set")]

    def __str__(self) -> str:
        return f"{self.count} {self.item}"

    @property
    def count(self) -> int:
        """All sets wanted of this kind."""
        return self.new + self.replacements + self.spares


class IceOut(OfShop):
    """When the ice went, one year, on one water."""

    water = models.CharField(max_length=60)
    went_on = models.DateField()

    class Meta:
        ordering = ["-went_on"]
        verbose_name = "ice-out"
        constraints = [
            models.UniqueConstraint(fields=["shop", "water", "went_on"], name="ice_out_once")
        ]

    def __str__(self) -> str:
        return f"{self.water}, {self.went_on:%Y-%m-%d}"


class OutlookRun(OfShop, EngineRun):
    """One outlook of the winter, kept so that it can be compared with what came."""

    winter = models.ForeignKey(Winter, models.CASCADE, related_name="outlooks")

    def __str__(self) -> str:
        return f"Outlook of {self.winter}, {timezone.localtime(self.made_at):%Y-%m-%d}"
