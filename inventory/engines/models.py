"""The row in which every engine run is kept, so that it can be repeated and compared."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.utils import timezone

# Written with every run: raise it when an engine answers the same problem differently.
ENGINE_VERSION = "1"


class EngineRun(models.Model):
    """One run of an engine: what went in, what came out, how long it took."""

    class Status(models.TextChoices):
        PROVEN = "proven", "proven best"
        FOUND = "found", "found, not proven best"
        IMPOSSIBLE = "impossible", "cannot be done as asked"

    problem = models.JSONField()
    params = models.JSONField(default=dict)
    seed = models.PositiveIntegerField(default=7)
    version = models.CharField(max_length=20)
    status = models.CharField(max_length=12, choices=Status.choices)
    result = models.JSONField()
    objective = models.FloatField(null=True)
    bound = models.FloatField(null=True)
    seconds = models.FloatField()
    made_at = models.DateTimeField(default=timezone.now)
    # A run outlives the account of whoever started it: plans are records of the club.
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        abstract = True
        ordering = ["-made_at"]
        get_latest_by = "made_at"
