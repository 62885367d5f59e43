"""Jobs of the slice: each takes ids and calls one action."""

from __future__ import annotations

from typing import Any

from django.urls import reverse
from django.utils import timezone

from workshops.common.jobs import Running, job
from workshops.season import actions
from workshops.season.models import Winter
from workshops.season.refusals import WinterRefused


@job("outlook", title="Work out the winter", refusals=(WinterRefused,))
def outlook(running: Running, *, winter: int) -> dict[str, Any]:
    """Draw the rest of the winter ten thousand times."""
    row = Winter.objects.select_related("shop").get(pk=winter, shop=running.shop)
    running.say(15, "drawing ten thousand winters")
    run = actions.work_out_outlook(winter=row, today=timezone.localdate(), by=running.job.asked_by)
    return {
        "run": run.pk,
        "says": "The outlook is worked out.",
        "next": reverse("season:winter", args=[row.shop.slug]),
    }
