"""Club and club rule."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.utils import timezone

from inventory.places.models import OfShop, Shop


class Club(models.Model):
    """The club that runs a shop."""

    shop = models.OneToOneField(Shop, models.CASCADE, related_name="club")
    name = models.CharField(max_length=120)
    contact = models.CharField(max_length=120, blank=True, help_text="who to ring, and the number")

    def __str__(self) -> str:
        return self.name


class ClubRule(OfShop):
    """A value the club has set for a rule of the rulebook."""

    key = models.SlugField(max_length=60)
    # JSON, since each rule has its own kind of value; the rulebook checks it on the way in and
    # out.
    value = models.JSONField(null=True, blank=True, help_text="null: decided to have no rule")
    decided_by = models.CharField(max_length=80)
    decided_on = models.DateField()
    source = models.CharField(max_length=200, help_text="from what: a code, a policy, a meeting")
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, related_name="+"
    )
    recorded_at = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["key"]
        constraints = [models.UniqueConstraint(fields=["shop", "key"], name="rule_once_a_shop")]

    def __str__(self) -> str:
        return f"{self.key}: {self.value}"
