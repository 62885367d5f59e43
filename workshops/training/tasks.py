"""Jobs of the slice."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from django.urls import reverse
from django.utils import timezone

from workshops.common.jobs import Running, job
from workshops.people.beside import say_of_a_person
from workshops.training.losing import weigh
from workshops.training.refusals import WeighingRefused
from workshops.training.telling import words_of

# On the page of a person, which stands to the left of this slice.
say_of_a_person(words_of)


@job("weigh_lapses", title="What the winter loses if sign-offs lapse", refusals=(WeighingRefused,))
def weigh_lapses(running: Running) -> dict[str, Any]:
    """Ask the winter's pace once for each sign-off that lapses."""
    running.say(5, "asking the winter's pace")
    found = weigh(
        running.shop,
        timezone.localdate(),
        say=lambda percent: running.say(percent, "asking the winter's pace"),
    )
    losses = [asdict(loss) | {"ended": loss.ended.isoformat()} for loss in found.losses]
    return {
        "says": f"{len(losses)} sign-offs weighed.",
        "sets": found.sets,
        "if_all": found.if_all,
        "left_out": found.left_out,
        "losses": losses,
        "next": reverse("training:lapses", args=[running.shop.slug]),
    }
