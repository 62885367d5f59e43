"""Each step of the close-out, ticked by name, or not done and why."""

from __future__ import annotations

from django.db import models
from django.db.models import Q
from django.utils import timezone

from inventory.materials.models import Item
from workshops.nights.models import Night
from workshops.stations.models import Station


class StepTick(models.Model):
    """One step at one station, or of the whole shop; the latest line of a step counts."""

    class Step(models.TextChoices):
        STOP = "stop", "stopped: power off, plugs out, gas shut"
        COUNT = "count", "counted, and in the tally"
        TAG = "tag", "half-made and held pieces tagged"
        TEAR_DOWN = "tear", "torn down, cleared and swept"
        WASTE = "waste", "sweepings, oily rags and hot ends out of the building"
        HEAT = "heat", "heat, compressor and lights off"
        DOORS = "doors", "windows and doors shut, key on its hook or with its holder"

    night = models.ForeignKey(Night, models.CASCADE, related_name="step_ticks")
    station = models.ForeignKey(
        Station, models.PROTECT, null=True, blank=True, related_name="+",
        help_text="empty: the whole shop",
    )  # fmt: skip
    step = models.CharField(max_length=5, choices=Step.choices)
    is_done = models.BooleanField()
    because = models.CharField(max_length=160, blank=True, help_text="why it is not done")
    ticked_by = models.CharField(max_length=80)
    at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["at", "pk"]
        constraints = [
            models.CheckConstraint(condition=~Q(ticked_by=""), name="a_step_is_ticked_by_name"),
            models.CheckConstraint(
                condition=(Q(is_done=True) & Q(because="")) | (Q(is_done=False) & ~Q(because="")),
                name="not_done_says_why",
            ),
        ]

    def __str__(self) -> str:
        what = "done" if self.is_done else f"not done, because {self.because}"
        return f"{self.get_step_display()}: {what} ({self.ticked_by})"


class RackCount(models.Model):
    """A rack counted by hand at the close; the book is not changed by it."""

    night = models.ForeignKey(Night, models.CASCADE, related_name="rack_counts")
    item = models.ForeignKey(Item, models.PROTECT, related_name="+")
    counted = models.PositiveIntegerField()
    booked = models.PositiveIntegerField(help_text="what the book said at that moment")
    counted_by = models.CharField(max_length=80)
    at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["at", "pk"]

    def __str__(self) -> str:
        return f"{self.counted} {self.item}, the book says {self.booked}"
