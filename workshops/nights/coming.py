"""Who comes tonight and when: the roll where somebody is on it, else what they signed up for."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from django.db.models import Exists, OuterRef, QuerySet, Subquery

from workshops.nights.clock import minutes, minutes_of
from workshops.nights.engine.people import Span
from workshops.nights.models import AlarmHand, Night, RollLine, SignUp


@dataclass(frozen=True, slots=True)
class Coming:
    """One person of the night.

    ``present`` are minutes after midnight, empty for somebody who is not expected (said no,
    said perhaps, or went home).
    """

    person_id: int
    name: str
    short_name: str
    answer: str
    present: tuple[Span, ...] = ()
    in_at: datetime | None = None
    out_at: datetime | None = None
    guests: int = 0
    guest_names: str = ""
    note: str = ""
    needs_hand: bool = False  # when the alarm goes

    @property
    def is_expected(self) -> bool:
        """Whether a plan counts on them."""
        return bool(self.present)

    @property
    def is_in(self) -> bool:
        """Whether the roll says they are in the building."""
        return self.in_at is not None and self.out_at is None


def sign_ups_of(night: Night) -> QuerySet[SignUp]:
    """Everybody who answered or was signed in, with their latest stay on the roll. 1 query."""
    stays = RollLine.objects.filter(night=night, person=OuterRef("person")).order_by("-in_at")
    return (
        SignUp.objects.filter(night=night)
        .select_related("person")
        .annotate(
            in_at=Subquery(stays.values("in_at")[:1]),
            out_at=Subquery(stays.values("out_at")[:1]),
            needs_hand=Exists(AlarmHand.objects.filter(person=OuterRef("person"))),
        )
        .order_by("person__first_name", "person__last_name", "person_id")
    )


def coming_to(night: Night, sign_ups: Iterable[SignUp] | None = None) -> list[Coming]:
    """Everybody of the night, by first name. 1 query; empty when nobody answered yet."""
    rows = sign_ups_of(night) if sign_ups is None else sign_ups
    return [_coming(row, night) for row in rows]


def _coming(row: SignUp, night: Night) -> Coming:
    in_at, out_at = getattr(row, "in_at", None), getattr(row, "out_at", None)
    span = _stay(row, night, in_at=in_at, out_at=out_at)
    return Coming(
        person_id=row.person_id,
        name=str(row.person),
        short_name=row.person.short_name,
        answer=row.answer,
        present=(span,) if span else (),
        in_at=in_at,
        out_at=out_at,
        guests=row.guests,
        guest_names=row.guest_names,
        note=row.note,
        needs_hand=getattr(row, "needs_hand", False),
    )


def _stay(
    row: SignUp, night: Night, *, in_at: datetime | None, out_at: datetime | None
) -> Span | None:
    start = minutes(row.arrives or night.doors)
    end = minutes(row.leaves or night.lock_up)
    if in_at is not None:
        start = max(0, minutes_of(in_at, night))
        if out_at is not None:
            end = minutes_of(out_at, night)
        elif end <= start:
            # Still here after the time they meant to leave: what they said no longer holds.
            end = minutes(night.lock_up)
    elif row.answer != SignUp.Answer.YES:
        return None
    return Span(start, end) if 0 <= start < end else None
