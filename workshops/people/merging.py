"""Two entries of one person made one, so that nothing is lost and the gate grows no laxer.

The register is never edited: what was signed for the other entry is copied to the one kept,
with a word of where it stands, and the other entry stays behind as what the copies came from.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from hashlib import sha256

from django.db import transaction
from django.utils import timezone

from workshops.access.models import User
from workshops.people.barring import spell_user
from workshops.people.gate import Doing, Register, register_on
from workshops.people.known_by import is_erased
from workshops.people.models import Bar, Guardianship, Person, Review, SignOff
from workshops.people.moving import move_all
from workshops.people.refusals import MergeRefused
from workshops.people.register import Ending
from workshops.people.stops import hold_register, stand_back

LIMITS = ("no_dust", "seated_only", "no_heavy")
FILLED = ("email", "phone", "emergency_contact", "note")
# Stopped for one of the two, the one person is stopped.
EITHER = frozenset({"barred", "with_a_lead", "personal_limits"})
# Stopped for both, the one person is stopped: no paper comes from joining. What a station builds
# on may be signed under one name, and the station under the other.
BOTH = frozenset({"sign_off", "minimum_age", "young_machines", "waiver", "consent"})


@dataclass(frozen=True)
class Merged:
    """What was done, or would be."""

    kept: Person
    gone: Person
    sign_offs: int
    bars: int
    moved: dict[str, int] = field(default_factory=dict)
    stayed: dict[str, int] = field(default_factory=dict)
    left: tuple[str, ...] = ()  # facts that differ: the one kept has its own
    ended: tuple[str, ...] = ()  # sign-offs that had lapsed without use

    @property
    def print(self) -> str:
        """The same for two merges exactly when they do the same."""
        told = (self.kept.pk, self.gone.pk, self.sign_offs, self.bars, self.moved, self.stayed)
        return sha256(repr((told, self.left, self.ended)).encode()).hexdigest()


def preview_merge(kept: Person, gone: Person, *, by: User, at: datetime | None = None) -> Merged:
    """What ``merge`` would do: done, read, and taken back.

    Raises
    ------
    MergeRefused
        As ``merge``.
    """
    with transaction.atomic():
        done = merge(kept=kept, gone=gone, by=by, at=at)
        transaction.set_rollback(True)
    return done


@transaction.atomic
def merge(*, kept: Person, gone: Person, by: User | None, at: datetime | None = None) -> Merged:
    """Everything of ``gone`` belongs to ``kept`` from now on; ``gone`` leaves the list.

    Raises
    ------
    MergeRefused
        When they cannot be one person, both have an account or a place in one night to come,
        one signed the other off, or the gate would let more through than before.
    """
    at = at or timezone.now()
    hold_register(kept.shop)
    kept, gone = (Person.objects.select_related("shop").get(pk=row.pk) for row in (kept, gone))
    _check(kept, gone, by)
    today = at.astimezone(kept.shop.zone).date()
    before = register_on(kept.shop, today)
    copies = _copy_sign_offs(kept, gone, by, at)
    bars = _copy_bars(kept, gone)
    ended = _end_lapsed(before, kept, gone, copies=copies, by=by, at=at)
    moved, stayed = move_all(gone, kept, today)
    left = _join_facts(kept, gone, by, at)
    _check_no_laxer(before, register_on(kept.shop, today), kept, gone)
    stand_back(gone)
    stand_back(kept)
    return Merged(kept, gone, len(copies), bars, moved, stayed, left, ended)


def _check(kept: Person, gone: Person, by: User | None) -> None:
    if kept.pk == gone.pk or kept.shop_id != gone.shop_id:
        raise MergeRefused("Choose two entries of this shop.")
    if kept.merged_into_id or gone.merged_into_id:
        raise MergeRefused("One of the two was joined with another entry before.")
    if is_erased(kept) or is_erased(gone):
        raise MergeRefused("One of the two was erased: nobody can tell who it was.")
    if by is not None and by.pk in (kept.user_id, gone.user_id):
        raise MergeRefused("Nobody joins their own entry with another: ask somebody else.")
    if kept.user_id and gone.user_id:
        raise MergeRefused("Both have an account: unlink one of them first.")
    if kept.born_on and gone.born_on and kept.born_on != gone.born_on:
        raise MergeRefused("The dates of birth differ: mend the wrong one, or they are two people.")
    pair = [kept, gone]
    if Guardianship.objects.filter(minor__in=pair, guardian__in=pair).exists():
        raise MergeRefused("One is the guardian of the other: they are two people.")
    crossed = SignOff.objects.filter(person__in=pair, signed_by__in=pair)
    if crossed.exclude(reviews__verdict=Review.Verdict.MISTAKE).exists():
        raise MergeRefused(
            "One signed the other off, and nobody signs for themselves: if they are one "
            "person, enter that sign-off as a mistake first."
        )


def _copy_sign_offs(
    kept: Person, gone: Person, by: User | None, at: datetime
) -> dict[int, SignOff]:
    """New rows for the one kept, by the rows they come from, with the reviews that were taken."""
    standing = gone.sign_offs.exclude(reviews__verdict=Review.Verdict.MISTAKE)
    copies: dict[int, SignOff] = {}
    for row in standing.order_by("signed_on", "pk"):
        # A word of where it stands; never shorter by what was seen.
        from_whom = f"signed for {gone}, no. {gone.pk}"
        evidence = f"{row.evidence}; {from_whom}" if row.evidence else from_whom
        copies[row.pk] = SignOff.objects.create(
            shop=row.shop, person=kept, station=row.station, level=row.level,
            signed_by=row.signed_by, signed_on=row.signed_on, valid_until=row.valid_until,
            evidence=evidence[-300:], points=row.points, recorded_by=by, recorded_at=at,
        )  # fmt: skip
    for review in Review.objects.filter(sign_off__in=copies).order_by("pk"):
        copy = copies[review.sign_off_id]
        review.pk, review.sign_off = None, copy
        review._state.adding = True
        review.save()
    return copies


def _copy_bars(kept: Person, gone: Person) -> int:
    """Bars that may still stop somebody; those that were lifted stay where they were."""
    rows = list(gone.bars.filter(lifted_at=None))
    for row in rows:
        Bar.objects.create(
            shop=row.shop, person=kept, station=row.station,
            reason=f"{row.reason} (set for {gone}, no. {gone.pk})"[-300:],
            set_at=row.set_at, set_by=row.set_by, until=row.until,
            only_with_a_lead=row.only_with_a_lead,
        )  # fmt: skip
    return len(rows)


def _end_lapsed(
    before: Register,
    kept: Person,
    gone: Person,
    *,
    copies: dict[int, SignOff],
    by: User | None,
    at: datetime,
) -> tuple[str, ...]:
    """Withdraw what had lapsed without use: the other entry's hours must not wake it."""
    ended = []
    for person in (kept, gone):
        for station, line in before.people[person.pk].signed.items():
            if line.ending is not Ending.UNUSED or line.is_current(before.on):
                continue
            row = copies.get(line.row) or SignOff.objects.get(pk=line.row)
            if row.reviews.exclude(verdict=Review.Verdict.STANDS).exists():
                continue  # withdrawn besides, and no use wakes that
            Review.objects.create(
                shop=kept.shop, sign_off=row, verdict=Review.Verdict.WITHDRAWN, on=before.on,
                reason="had lapsed without use when two entries of one person were joined",
                reviewed_by=spell_user(by) or "the shop", recorded_at=at, recorded_by=by,
            )  # fmt: skip
            ended.append(before.stations[station].name)
    return tuple(ended)


def _join_facts(kept: Person, gone: Person, by: User | None, at: datetime) -> tuple[str, ...]:
    """The facts of both in the one kept; names of those that differ. The other keeps its own."""
    left = [
        name.replace("_", " ") for name in FILLED
        if getattr(gone, name) and getattr(kept, name) not in ("", getattr(gone, name))
    ]  # fmt: skip
    for name in FILLED:
        setattr(kept, name, getattr(kept, name) or getattr(gone, name))
    for name in LIMITS:
        setattr(kept, name, getattr(kept, name) or getattr(gone, name))
    kept.born_on = kept.born_on or gone.born_on
    # Of age by their word only where both entries say so.
    kept.is_adult_declared = kept.is_adult_declared and gone.is_adult_declared
    kept.joined_on = min(kept.joined_on, gone.joined_on)
    kept.likes.add(*gone.likes.all())
    kept.changed_by = gone.changed_by = by
    kept.changed_at = gone.changed_at = at
    user, gone.user = gone.user, None
    gone.is_active, gone.merged_into = False, kept
    gone.save()
    kept.user = kept.user or user
    kept.save()
    return tuple(left)


def _check_no_laxer(before: Register, after: Register, kept: Person, gone: Person) -> None:
    """The gate itself says that nothing is open that was stopped; else all is taken back."""
    for station in before.stations:
        for doing in Doing:
            one, other = (before.answer(row.pk, station, doing) for row in (kept, gone))
            now = after.answer(kept.pk, station, doing)
            stops = [rule for rule in EITHER if one.stopped_by(rule) or other.stopped_by(rule)]
            stops += [rule for rule in BOTH if one.stopped_by(rule) and other.stopped_by(rule)]
            opened = [rule for rule in stops if not now.stopped_by(rule)]
            if opened:
                name = before.stations[station].name
                raise MergeRefused(
                    f"{name}: joined, they could do more than either could. "
                    "See first what stops them there."
                )
