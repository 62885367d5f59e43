"""Ticking a cut list off at the saw: each tick is one entry of the book.

Sent twice with one key, a tick counts once. Two tablets may tick one list: the shop is
locked while a tick is written, so no stick is cut that is not on the list any more.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from uuid import UUID, uuid4

from django.contrib.auth.base_user import AbstractBaseUser
from django.db import transaction
from django.db.models import Max

from inventory.cutting.engine.problem import CutProblem, Stick
from inventory.cutting.models import CutListRun, CutTick
from inventory.cutting.progress import left_of
from inventory.cutting.queries import Strip, strips_of
from inventory.cutting.shelving import Places, Sawn, back, sticks_out, truly
from inventory.ledger import actions as ledger
from inventory.ledger.actions import NewLine
from inventory.ledger.models import Entry
from inventory.ledger.refusals import plain, spelled
from inventory.measures.lengths import spell_length
from inventory.places.actions import floor_of
from inventory.places.models import Place, Shop

Who = AbstractBaseUser | None
How = CutTick.How
Kind = Entry.Kind


class CutRefused(ValueError):
    """A tick that cannot be; the sentence says what to do instead."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Done:
    """Who cut when, where things were put, and the key of the request."""

    by: Who
    at: datetime
    piece_place: Place | None = None
    drop_place: Place | None = None
    client_key: UUID | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Unlike:
    """A stick that was not as the list drew it, and why.

    ``pieces`` are those that came out right, by name; the rest of the stick is kept when
    it is long enough, or thrown away when it ``is_scrapped``.
    """

    length_um: int
    reason: str
    pieces: Mapping[str, int]
    is_scrapped: bool = False


@transaction.atomic
def cut(*, run: CutListRun, pattern: int, sticks: int | None, done: Done) -> CutTick:
    """Tick so many sticks of a pattern as cut, all that are left when ``sticks`` is ``None``.

    Raises
    ------
    CutRefused
        When fewer are left on the list, or the list was carried on in another.
    inventory.ledger.actions.PostingRefused
        When a place is of another shop.
    """
    if already := _locked(run, done.client_key):
        return already
    strip, left = _strip(run, pattern)
    number = left if sticks is None else sticks
    if not 0 < number <= left:
        raise CutRefused(_too_many(strip, left))
    made = Counter(piece.label for piece in strip.pieces)
    pieces = {label: count * number for label, count in made.items()}
    sawn = Sawn(
        strip.length_um, number, _by_length(strip, pieces), strip.left_over_um, strip.is_kept
    )
    lines, short = sticks_out(run.item, strip.length_um, number)
    places = _places(run, done)
    lines += back(run.item, sawn, places)
    reason = _more_than_booked(run, strip, short)
    entry = _posted(run, Kind.CUT, lines, done=done, reason=reason)
    return _ticked(CutTick(pattern=pattern, pieces=pieces), run, sawn, entry=entry, done=done)


@transaction.atomic
def cut_unlike(*, run: CutListRun, pattern: int, unlike: Unlike, done: Done) -> CutTick:
    """Tick one stick that was short, long or damaged; the book learns its true length.

    Raises
    ------
    CutRefused
        Without a reason, when the pieces do not fit the true length, or as ``cut`` does.
    """
    if already := _locked(run, done.client_key):
        return already
    strip, left = _strip(run, pattern)
    if not left:
        raise CutRefused(_too_many(strip, left))
    if not unlike.reason.strip():
        raise CutRefused("Say what was wrong with the stick: it is read when somebody asks.")
    pieces = {label: count for label, count in unlike.pieces.items() if count}
    sawn = _sawn_unlike(run, strip, unlike, pieces)
    # What was not booked at all is a difference already.
    lines, _ = sticks_out(run.item, strip.length_um, 1)
    if sawn.length_um != strip.length_um:
        lines += truly(run.item, strip.length_um, sawn.length_um)
    lines += back(run.item, sawn, _places(run, done))
    how = How.SCRAPPED if unlike.is_scrapped else How.UNLIKE
    kind = Kind.CUT if pieces else Kind.SCRAP if unlike.is_scrapped else Kind.COUNTED
    entry = _posted(run, kind, lines, done=done, reason=_reason(run, strip, unlike))
    tick = CutTick(pattern=pattern, pieces=pieces, how=how, note=unlike.reason[:200])
    return _ticked(tick, run, sawn, entry=entry, done=done)


@transaction.atomic
def take_back(tick: CutTick, *, by: Who, at: datetime, client_key: UUID | None = None) -> Entry:
    """Take a tick back by posting its mirror image.

    Raises
    ------
    CutRefused
        When the rest of the list was worked out since: that counted on these pieces.
    inventory.ledger.actions.AlreadyCorrected, inventory.ledger.actions.NotEnough
        When it was taken back before, or its pieces have been used since.
    """
    ledger.lock_book(tick.shop)
    if CutListRun.objects.filter(pk=tick.run_id, replaced_by__isnull=False).exists():
        raise CutRefused(
            "The rest of this list was worked out anew since. Take the entry back under "
            "Movements, and cut the pieces from a new list."
        )
    reason = f"not cut after all: {tick.run.item}"[:200]
    return ledger.correct(tick.entry, reason=reason, by=by, at=at, client_key=client_key)


def _locked(run: CutListRun, client_key: UUID | None) -> CutTick | None:
    """Lock, and the tick already written under the key.

    Raises ``CutRefused`` when the list was carried on in another.
    """
    ledger.lock_book(run.shop)
    if client_key is not None:
        already = CutTick.objects.filter(shop=run.shop, client_key=client_key).first()
        if already is not None:
            return already
    if CutListRun.objects.filter(pk=run.pk, replaced_by__isnull=False).exists():
        raise CutRefused("The rest of this list was worked out anew: tick that list.")
    return None


def _strip(run: CutListRun, pattern: int) -> tuple[Strip, int]:
    """The pattern and how many of its sticks are still to be cut. 1 query."""
    strips = strips_of(run)
    if not 0 <= pattern < len(strips):
        raise CutRefused("This list has no such pattern.")
    return strips[pattern], left_of(run, strips)[pattern]


def _too_many(strip: Strip, left: int) -> str:
    if not left:
        return f"All {strip.times} sticks of this pattern are ticked already."
    return f"Only {left} of {strip.times} sticks of this pattern are still to be cut."


def _by_length(strip: Strip, pieces: Mapping[str, int]) -> dict[int, int]:
    lengths = {piece.label: piece.length_um for piece in strip.pieces}
    found = Counter[int]()
    for label, count in pieces.items():
        found[lengths[label]] += count
    return dict(found)


def _sawn_unlike(run: CutListRun, strip: Strip, unlike: Unlike, pieces: dict[str, int]) -> Sawn:
    """What came of a stick that was different, recounted along its true length."""
    there = Counter(piece.label for piece in strip.pieces)
    for label, count in pieces.items():
        if not 0 < count <= there[label]:
            raise CutRefused(f"{label}: {there[label]} come off this pattern, not {count}.")
    problem = CutProblem.from_json(run.problem)
    drawn = next(stick for stick in problem.sticks if stick.label == strip.stick)
    stick = Stick(drawn.label, unlike.length_um, 1, drawn.cost, drawn.is_drop)
    lengths = _by_length(strip, pieces)
    taken = sum((length + problem.kerf) * count for length, count in lengths.items())
    # Its far end needs no trim here: the pieces lie there, measured and good.
    if taken - problem.kerf > stick.length - problem.start(stick):
        units = run.shop.length_units
        raise CutRefused(f"These pieces do not fit {spell_length(stick.length, units)}.")
    # A stick that nobody cut has lost nothing to blade or trim.
    left = problem.left_over(stick, taken) if pieces else stick.length
    is_kept = problem.is_kept(left) and not unlike.is_scrapped
    return Sawn(stick.length, 1, lengths, left, is_kept)


def _places(run: CutListRun, done: Done) -> Places:
    home = run.item.home or floor_of(run.shop)
    pieces = done.piece_place or home
    return Places(pieces, done.drop_place or pieces)


def _posted(run: CutListRun, kind: str, lines: list[NewLine], *, done: Done, reason: str) -> Entry:
    return ledger.post(
        shop=run.shop,
        kind=kind,
        lines=lines,
        by=done.by,
        at=done.at,
        reason=reason,
        paper=f"cut list {run.pk}",
        night_key=run.night_key,
        client_key=done.client_key,
    )


def _ticked(tick: CutTick, run: CutListRun, sawn: Sawn, *, entry: Entry, done: Done) -> CutTick:
    places = _places(run, done)
    tick.shop, tick.run, tick.entry, tick.sticks = run.shop, run, entry, sawn.sticks
    tick.piece_place, tick.drop_place = places.pieces, places.drops
    tick.done_at, tick.done_by_id = done.at, done.by.pk if done.by else None
    tick.client_key = done.client_key or uuid4()
    if sawn.left_um and sawn.is_kept:
        tick.drop_um, tick.drop_number = sawn.left_um, _next_number(run.shop)
    tick.save()
    return tick


def _next_number(shop: Shop) -> int:
    """The next number to write on a drop; never one that was used before."""
    highest = CutTick.objects.filter(shop=shop).aggregate(Max("drop_number"))["drop_number__max"]
    return (highest or 0) + 1


def _more_than_booked(run: CutListRun, strip: Strip, short: int) -> str:
    if not short:
        return ""
    return f"more cut than booked: {plain(Decimal(short))} × {spelled(run.item, strip.length_um)}"


def _reason(run: CutListRun, strip: Strip, unlike: Unlike) -> str:
    units = run.shop.length_units
    told = f"{strip.stick} was {spell_length(unlike.length_um, units)}: {unlike.reason.strip()}"
    return told[:200]
