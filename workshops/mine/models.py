"""A link that was sent, and the secret address of a calendar."""

from __future__ import annotations

import secrets

from django.db import models
from django.utils import timezone

from inventory.places.models import OfShop
from workshops.people.models import Person


def new_secret() -> str:
    """What stands in the address of a calendar: 192 random bits."""
    return secrets.token_urlsafe(24)


class Link(models.Model):
    """A one-time link sent to an e-mail address.

    Of an address and of no shop: a parent and a child share one, and so may two clubs. Who
    is meant is asked when it is opened.
    """

    email = models.EmailField()
    asked_at = models.DateTimeField(default=timezone.now)
    used_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-asked_at"]

    def __str__(self) -> str:
        return f"Link of {timezone.localtime(self.asked_at):%d %b %H:%M}"


class Feed(OfShop):
    """The calendar of one person, read by whoever knows its address."""

    person = models.OneToOneField(Person, models.CASCADE, related_name="feed")
    secret = models.CharField(max_length=40, unique=True, default=new_secret, editable=False)
    has_all_nights = models.BooleanField(
        default=False, help_text="also nights that were not answered with yes or maybe"
    )
    made_at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"Calendar of {self.person}"
