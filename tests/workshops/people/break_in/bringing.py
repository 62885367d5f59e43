"""What a burglar must have seen before a post: the fates of a list, or what joining two does."""

from __future__ import annotations

from random import Random
from typing import Any

from django.utils import timezone

from tests.factories import TODAY
from tests.workshops.people.break_in.world import World
from workshops.access.models import User
from workshops.common.uploads import keep_upload
from workshops.people.exchange.commit import KIND, preview_of
from workshops.people.merging import preview_merge
from workshops.people.models import Person
from workshops.people.refusals import PeopleRefused
from workshops.stations.models import Level

STALE = "what somebody saw yesterday"


def list_brought(world: World, draw: Random, by: User) -> dict[str, Any]:
    """A list of one or two people with paper sign-offs, as ``by`` brought it, and its fates."""
    stations = draw.sample([world.scene.drill, world.scene.weld, world.scene.watch], 1)
    lines = [";".join(["First name", "Last name", "Of age", *(each.name for each in stations)])]
    listed = [*world.rows["person"], Person(first_name="New", last_name="Comer")]
    people = draw.sample(listed, draw.randint(1, 2))
    answers = {str(number): draw.choice(["new", str(draw.choice(listed).pk)]) for number in (2, 3)}
    for person in people:
        levels = [draw.choice([*Level.values, Level.ALONE, Level.MAY_LEAD]) for _ in stations]
        cells = [f"{Level(level).label} {draw.choice(DAYS)}" for level in levels]
        lines.append(";".join([person.first_name, person.last_name, "yes", *cells]))
    upload = keep_upload(
        shop=world.shop, kind=KIND, name="a.csv", data="\n".join(lines).encode(), by=by,
        at=timezone.now(), choices={"rows": answers},
    )  # fmt: skip
    seen = preview_of(upload).plan.print if draw.random() < 0.9 else STALE
    return {"pk": upload.pk, "seen": seen}


def joining(world: World, draw: Random, by: User) -> dict[str, Any]:
    """Somebody and an entry made twice, not always of the same, and what joining was seen to do."""
    pair = [draw.choice(world.rows["person"]), draw.choice(world.rows["double"])]
    kept, gone = draw.sample(pair, 2)
    try:
        is_seen = draw.random() < 0.9
        seen = preview_merge(kept, gone, by=by).print if is_seen else STALE
    except PeopleRefused:
        seen = STALE
    return {"pk": kept.pk, "other": gone.pk, "seen": seen}


# As a list writes them: signed in the autumn, lapsed long since, to come.
DAYS = ["2025-11-05", "2025-12-01", "2023-11-05", "2027-01-02", f"{TODAY}", f"{TODAY}"]
