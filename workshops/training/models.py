"""A warning that a sign-off lapses, as it was sent."""

from __future__ import annotations

from django.db import models
from django.utils import timezone

from inventory.places.models import OfShop
from workshops.people.models import Person, SignOff


class LapseWarning(OfShop):
    """That somebody was told of a sign-off that ends soon. Each is sent once."""

    class Stage(models.TextChoices):
        FIRST = "first", "first warning"
        LAST = "last", "last warning"

    sign_off = models.ForeignKey(SignOff, models.CASCADE, related_name="lapse_warnings")
    stage = models.CharField(max_length=5, choices=Stage.choices)
    # The last day may move when a sign-off is used again: then it is another warning.
    ends_on = models.DateField()
    sent_to = models.ForeignKey(Person, models.CASCADE, related_name="lapse_warnings")
    has_email = models.BooleanField(help_text="false: no address, so somebody must tell them")
    sent_at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["-sent_at", "-pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["sign_off", "stage", "ends_on", "sent_to"], name="warned_once"
            )
        ]

    def __str__(self) -> str:
        return f"{self.get_stage_display()} to {self.sent_to}: {self.sign_off}"
