"""Jobs of the slice: each takes ids and calls one action."""

from __future__ import annotations

from typing import Any

from django.urls import reverse

from workshops.common.jobs import Running, job
from workshops.nights import actions
from workshops.nights.models import Night, PlacingRun
from workshops.nights.refusals import NightRefused
from workshops.nights.scrubbing import before_erasing, scrub_nights
from workshops.people.actions import when_stopped
from workshops.people.erasing import also_erase, first_ask

# Whoever is stopped in the register is taken out of the plans of the nights to come, and off
# the fire watch.
when_stopped(actions.step_away)
when_stopped(actions.stand_down)
first_ask(before_erasing)
also_erase(scrub_nights)


@job("plan_night", title="Place everybody for the night", refusals=(NightRefused,))
def plan_night(running: Running, *, night: int, keeping: bool = True) -> dict[str, Any]:
    """Place everybody for a night."""
    row = Night.objects.select_related("shop").get(pk=night, shop=running.shop)
    running.say(20, "placing people")
    run = actions.plan_night(night=row, by=running.job.asked_by, keeping=keeping)
    return {
        "run": run.pk,
        "says": _told(run),
        "next": reverse("nights:night", args=[row.shop.slug, row.date]),
    }


def _told(run: PlacingRun) -> str:
    if not run.result["placings"]:
        return "Nobody could be placed. Each closed station says why, and who could be asked."
    return f"Everybody is placed: {run.get_status_display()}."
