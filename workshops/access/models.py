"""User and membership."""

from __future__ import annotations

from django.contrib.auth.models import AbstractUser
from django.db import models

from inventory.places.models import Shop


# Ours from the first migration on: Django's own user cannot be exchanged for another later.
class User(AbstractUser):
    """Somebody who signs in."""

    @property
    def signs_as(self) -> str:
        """The name that stands under what they write down: their own, or what they sign in by."""
        return self.get_full_name() or self.username


class Membership(models.Model):
    """The role a user has in a shop."""

    class Role(models.TextChoices):
        COORDINATOR = "coordinator", "coordinator"
        DUTY_LEAD = "duty_lead", "duty lead"
        STOREKEEPER = "storekeeper", "storekeeper"
        AUTHORISER = "authoriser", "authoriser"
        VOLUNTEER = "volunteer", "volunteer"
        READER = "reader", "reader"

    user = models.ForeignKey(User, models.CASCADE, related_name="memberships")
    shop = models.ForeignKey(Shop, models.CASCADE, related_name="memberships")
    role = models.CharField(max_length=12, choices=Role.choices)

    class Meta:
        ordering = ["shop", "user"]
        constraints = [
            models.UniqueConstraint(fields=["user", "shop"], name="membership_once_a_shop")
        ]

    def __str__(self) -> str:
        return f"{self.user} is {self.get_role_display()} of {self.shop}"

    def get_additional_data(self) -> dict[str, int]:
        """What the trail of changes keeps beside a row: whose it is."""
        return {"shop": self.shop_id}
