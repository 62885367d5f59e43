"""Jobs of the slice: each takes ids and calls one action."""

from __future__ import annotations

from typing import Any

from django.urls import reverse
from django.utils import timezone

from workshops.access.models import User
from workshops.common.jobs import Running, job
from workshops.nights.models import Night
from workshops.tonight import actions
from workshops.tonight.refusals import TonightRefused


@job("tell_off", title="Tell those who meant to come", refusals=(TonightRefused,))
def tell_off(running: Running, *, night: int) -> dict[str, Any]:
    """Tell everybody who meant to come that a night is off."""
    row = Night.objects.select_related("shop").get(pk=night, shop=running.shop)
    running.say(20, "writing letters")
    by = running.by if isinstance(running.by, User) else None
    told = actions.tell(night=row, by=by, at=timezone.now())
    letters = sum(each.has_email for each in told)
    return {
        "says": f"{letters} told by letter, {len(told) - letters} to be rung.",
        "next": reverse("tonight:off", args=[row.shop.slug, row.date]),
    }
