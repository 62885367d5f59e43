"""Jobs, which outlast a page, and uploads, which wait to be looked at."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.utils import timezone

from inventory.places.models import OfShop


class Job(OfShop):
    """One piece of work in the background: what, for whom, how far, with what outcome."""

    class State(models.TextChoices):
        WAITING = "waiting", "waiting"
        RUNNING = "running", "running"
        DONE = "done", "done"
        FAILED = "failed", "failed"
        CUT_OFF = "cut_off", "cut off by a restart"

    kind = models.CharField(max_length=40)  # a name registered in common.jobs
    arguments = models.JSONField(default=dict)
    state = models.CharField(max_length=8, choices=State.choices, default=State.WAITING)
    progress = models.PositiveSmallIntegerField(default=0, help_text="per cent")
    message = models.CharField(max_length=300, blank=True)
    result = models.JSONField(default=dict, blank=True)
    process = models.CharField(
        max_length=80, blank=True, help_text="who has it in hand; see common.processes"
    )
    asked_at = models.DateTimeField(default=timezone.now)
    started_at = models.DateTimeField(null=True, blank=True)
    ended_at = models.DateTimeField(null=True, blank=True)
    asked_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["-asked_at", "-pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(progress__lte=100), name="job_progress_in_per_cent"
            )
        ]

    def __str__(self) -> str:
        return f"{self.kind} ({self.get_state_display()})"


class Upload(OfShop):
    """A file that somebody brought, kept until it is written in the books or thrown away."""

    kind = models.CharField(max_length=40, help_text="what the file is a list of")
    name = models.CharField(max_length=120, help_text="what the file was called")
    data = models.BinaryField()
    # What was chosen beside the file, such as whether places it names may be added.
    choices = models.JSONField(default=dict, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="+")
    brought_at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["-brought_at", "-pk"]

    def __str__(self) -> str:
        return f"{self.name} ({self.kind})"
