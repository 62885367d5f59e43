"""A second look at a sign-off: it stands, it is withdrawn, or it was a mistake."""

from __future__ import annotations

from datetime import date, datetime

from django.db import transaction
from django.utils import timezone

from workshops.access.models import User
from workshops.people.barring import spell_user
from workshops.people.gate import Doing, may
from workshops.people.models import Person, Review, SignOff
from workshops.people.refusals import CannotSign, PeopleRefused, ReviewRefused
from workshops.people.stops import hold_register, stand_back

Verdict = Review.Verdict


@transaction.atomic
def review(
    *,
    sign_off: SignOff,
    verdict: str,
    reason: str,
    reviewer: Person | None = None,
    by: User | None,
    at: datetime | None = None,
) -> Review:
    """What a second look at a sign-off found; the sign-off itself stays as it was written.

    Withdrawn, it counts no more from today on, and nothing earlier comes back: the person is
    shown and signed anew. A mistake never counted. What is found to stand is confirmed by
    another authoriser of the station.

    Raises
    ------
    PeopleRefused
        When no reason is given, or nobody says who looked.
    ReviewRefused
        When the sign-off was ended before, or somebody looks at their own.
    CannotSign
        When who confirms may not sign others at that station.
    """
    at = at or timezone.now()
    hold_register(sign_off.shop)
    name = str(reviewer) if reviewer else spell_user(by)
    if verdict not in Verdict.values:
        raise PeopleRefused("Finding: choose one of the list.", "verdict")
    if not reason.strip():
        raise PeopleRefused("Reason: write what the second look found.", "reason")
    if not name:
        raise PeopleRefused("It must be said who looked again.")
    _check_looker(sign_off, reviewer, by)
    if sign_off.reviews.exclude(verdict=Verdict.STANDS).exists():
        raise ReviewRefused(f"{sign_off} was ended before. Sign anew instead.")
    today = at.astimezone(sign_off.shop.zone).date()
    if verdict == Verdict.STANDS:
        _check_confirmer(sign_off, reviewer, today)
    row = Review.objects.create(
        shop=sign_off.shop, sign_off=sign_off, verdict=verdict, on=today, reason=reason.strip(),
        reviewer=reviewer, reviewed_by=name, recorded_at=at, recorded_by=by,
    )  # fmt: skip
    stand_back(sign_off.person)
    return row


def _check_looker(sign_off: SignOff, reviewer: Person | None, by: User | None) -> None:
    person = sign_off.person
    if reviewer == person or (by is not None and person.user_id == by.pk):
        # A step back taken for a mistake would let them up again.
        raise ReviewRefused("Nobody looks again at their own sign-off: ask somebody else.")


def _check_confirmer(sign_off: SignOff, reviewer: Person | None, today: date) -> None:
    if reviewer is None or reviewer == sign_off.signed_by:
        raise CannotSign("Another authoriser of the station confirms that it stands.")
    answer = may(reviewer, sign_off.station, today, doing=Doing.SIGNS)
    if not answer.ok:
        raise CannotSign(f"{answer.reasons[0].text} {answer.reasons[0].remedy}", answer.reasons)
