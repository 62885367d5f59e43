"""Jobs of the slice: each takes ids and calls one action."""

from __future__ import annotations

from typing import Any

from django.urls import reverse
from django.utils import timezone

from workshops.common.jobs import Running, job
from workshops.nights.models import Night
from workshops.paper import actions
from workshops.paper.refusals import PaperRefused


@job("make_cards", title="Make the station cards", refusals=(PaperRefused,))
def make_cards(running: Running, *, night: int) -> dict[str, Any]:
    """The station cards of a night."""
    row = Night.objects.select_related("shop", "plan").get(pk=night, shop=running.shop)
    running.say(10, "drawing the cards")
    paper = actions.make_cards(night=row, at=timezone.now())
    return {
        "paper": paper.pk,
        "says": f"{paper.pages} cards are ready to print.",
        "next": reverse("paper:list", args=[row.shop.slug]),
    }
