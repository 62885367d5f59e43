"""Every look at what is private to a person is written down; ``looks`` reads it back."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from django.db import transaction
from django.utils import timezone

from workshops.access.models import User
from workshops.people.models import Look, Person

Kept = Look.Kept
# What the private panel of a person shows, and the form with everything.
EVERYTHING = tuple(Kept)


@transaction.atomic
def look_at(
    people: Iterable[Person], *, what: Collection[Kept], page: str, by: User, is_own: bool = False
) -> list[Person]:
    """The people, whose private facts may be shown now that the look is written down.

    One row a person. A person without an account cannot be the one who looks, and somebody
    who reads their own details is not written down, unless ``is_own`` asks for it (two queries).
    """
    looked, now = list(people), timezone.now()
    name = by.signs_as
    Look.objects.bulk_create(
        Look(
            shop_id=person.shop_id, person=person, what=[each.value for each in what],
            page=page, seen_by=name[:80], user=by, at=now,
        )
        for person in looked if is_own or person.user_id != by.pk
    )  # fmt: skip
    return looked
