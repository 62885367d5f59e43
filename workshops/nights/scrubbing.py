"""What of the nights stands in the way of erasing somebody, and what goes with them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from datetime import datetime
from typing import Any

from workshops.nights.models import (
    HotWorkPermit,
    Night,
    Placing,
    PlacingRun,
    RollLine,
    SignUp,
    TrainingDate,
)
from workshops.people.erasing import Erasing, each_text
from workshops.people.models import Person

# A grown-up whose age was not asked, and the youngest there is: no more is kept of an age.
OF_AGE, A_MINOR = None, 0


def before_erasing(person: Person, at: datetime) -> Iterator[str]:
    """Whoever is here, placed tonight or on a watch is erased later (four queries)."""
    today = at.astimezone(person.shop.zone).date()
    stay = RollLine.objects.filter(person=person, out_at=None).select_related("night").first()
    if stay:
        yield f"{person} is in the building since the night of {stay.night}: sign them out first."
    if Placing.objects.filter(
        person=person, night__date=today, night__status=Night.Status.PLANNED
    ).exists():
        yield f"{person} is placed tonight: take them out of the plan first, or wait until it ends."
    permit = HotWorkPermit.objects.filter(watcher=person, watch_ended_at=None).first()
    if permit:
        yield f"{person} keeps the fire watch of {permit.night}: have its end signed first."


def scrub_nights(erasing: Erasing) -> None:
    """Answers for nights to come go, and what was said with those behind.

    Plans know people by their number and by the name they had then: both are looked for.
    """
    people, today = erasing.numbers, erasing.today
    answers = SignUp.objects.filter(person__in=people)
    answers.filter(night__date__gt=today).delete()
    answers.update(guest_names="", note="")
    for run in PlacingRun.objects.filter(shop=erasing.shop).iterator(chunk_size=20):
        _scrub_run(run, erasing)


def _scrub_run(run: PlacingRun, erasing: Erasing) -> None:
    """The problem, the plan and the sentences of one run."""
    listed = run.problem.get("people", [])
    numbers = {str(number) for number in erasing.numbers}
    wanted = {each["name"] for each in listed if each["id"] in numbers}
    if not wanted:
        return
    # Every name of the run is looked for, so that "Ada" is not cut out of "Ada B.".
    names = sorted((each["name"] for each in listed), key=len, reverse=True)
    pattern = re.compile(rf"(?<!\w)(?:{'|'.join(map(re.escape, names))})(?!\w)")

    def without(text: str) -> str:
        return pattern.sub(lambda m: erasing.name if m[0] in wanted else m[0], text)

    for each in listed:
        if each["id"] in numbers:
            _empty(each, run.problem)
    for name in wanted:
        for row in Placing.objects.filter(run=run, why__contains=name):
            row.why = without(row.why)[:300]
            row.save(update_fields=["why"])
        for date in TrainingDate.objects.filter(night=run.night_id, why_not__contains=name):
            date.why_not = without(date.why_not)[:300]
            date.save(update_fields=["why_not"])
    run.problem, run.result = each_text(run.problem, without), each_text(run.result, without)
    run.save(update_fields=["problem", "result"])


def _empty(told: dict[str, Any], problem: Mapping[str, Any]) -> None:
    """The person of a problem without limits, wishes and age."""
    age, adult_age = told.get("age"), problem.get("club", {}).get("adult_age", 18)
    is_minor = age is not None and age < adult_age
    told |= {"age": A_MINOR if is_minor else OF_AGE, "likes": []}
    told |= dict.fromkeys(("no_dust", "seated_only", "no_heavy"), False)
