"""One tap "not coming": the answer, the plan made anew, and what it changed, kept as rows."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from uuid import UUID

from django.db import transaction

from workshops.access.models import User
from workshops.nights.actions import plan_night, replan_rest, sign_up, undo_step, unplace
from workshops.nights.clock import moment
from workshops.nights.models import Night, Placing, PlacingRun, RollLine, SignUp
from workshops.nights.refusals import NightRefused, PlacingRefused
from workshops.people.models import Person
from workshops.tonight.models import Tap
from workshops.tonight.plans import kept
from workshops.tonight.refusals import TonightRefused

SECONDS = (
    3.0  # at most: a plan of thirty people takes half a second, and cut short it is a poor one
)


def not_coming(
    *, night: Night, person: Person, by: User | None, at: datetime, client_key: UUID
) -> Tap:
    """Note that somebody is not coming, and place the others anew with few changes.

    The same key again gives the same tap. Without a plan there is nothing to place anew.
    When the plan cannot be made (something fixed by hand stands in the way), the answer
    stands all the same and the tap has no ``after``.

    Raises
    ------
    TonightRefused
        When the person is in the building, or of another shop.
    workshops.nights.refusals.NightRefused
        When the night is over or cancelled.
    """
    tap, is_new = _noted(night, person, by=by, at=at, client_key=client_key)
    return _place_anew(tap, by=by, at=at) if is_new else tap


def comes_after_all(*, tap: Tap, by: User | None, at: datetime, client_key: UUID) -> Tap:
    """Take a tap back: the person comes as they had said, and the plan is as it was before.

    Once the board has been changed since, it is placed anew with few changes instead.

    Raises
    ------
    TonightRefused
        When it was taken back already.
    workshops.nights.refusals.NightRefused
        When the night is over or cancelled.
    """
    back, is_new = _returned(tap, by=by, at=at, client_key=client_key)
    return _put_back(back, by=by, at=at) if is_new else back


def _known(night: Night, client_key: UUID) -> Tap | None:
    """The tap of that key, once nobody else is tapping for the night."""
    # Two presses at once wait for one another here, and the second finds the first.
    Night.objects.select_for_update().get(pk=night.pk)
    return Tap.objects.filter(shop=night.shop_id, client_key=client_key).first()


@transaction.atomic
def _noted(
    night: Night, person: Person, *, by: User | None, at: datetime, client_key: UUID
) -> tuple[Tap, bool]:
    """The tap with the plan before it, and whether it is new.

    Then the person is out of every place fixed by hand: somebody away stops every plan.
    """
    if known := _known(night, client_key):
        return known, False
    if RollLine.objects.filter(night=night, person=person, out_at=None).exists():
        raise TonightRefused(f"{person} is in the building. Sign them out on the roll instead.")
    if person.shop_id != night.shop_id:
        raise TonightRefused(f"{person} is not on this shop's list.")
    before = SignUp.objects.filter(night=night, person=person).first()
    steps = _steps(night)
    tap = Tap.objects.create(
        shop=night.shop, night=night, person=person, by=by, at=at, client_key=client_key,
        answer_before=before.answer if before else "", before=_stands(night), run_before=night.plan,
    )  # fmt: skip
    _answer(night, person, SignUp.Answer.NO, at)
    for row in Placing.objects.filter(night=night, person=person, is_locked=True):
        unplace(night=night, block=row.block, person=person)
    return _with_steps(tap, steps), True


@transaction.atomic
def _returned(tap: Tap, *, by: User | None, at: datetime, client_key: UUID) -> tuple[Tap, bool]:
    if known := _known(tap.night, client_key):
        return known, False
    held = Tap.objects.select_for_update().select_related("night__shop", "person").get(pk=tap.pk)
    if held.undoes_id or Tap.objects.filter(undoes=held).exists():
        raise TonightRefused("That was taken back already. Look at the page again.")
    back = Tap.objects.create(
        shop=held.shop, night=held.night, person=held.person, by=by, at=at, client_key=client_key,
        answer_before=SignUp.Answer.NO, before=_stands(held.night), run_before=held.night.plan,
        undoes=held,
    )  # fmt: skip
    _answer(held.night, held.person, held.answer_before or SignUp.Answer.YES, at)
    return back, True


def _answer(night: Night, person: Person, answer: str, at: datetime) -> None:
    row = SignUp.objects.filter(night=night, person=person).first()
    sign_up(
        night=night, person=person, answer=answer, at=at,
        arrives=row.arrives if row else None, leaves=row.leaves if row else None,
    )  # fmt: skip


def _place_anew(tap: Tap, *, by: User | None, at: datetime) -> Tap:
    if not tap.before:
        tap.after = []
        tap.save(update_fields=["after"])
        return tap
    steps = _steps(tap.night)
    try:
        tap.run = _planned(tap, by=by, at=at)
    except NightRefused as refused:
        tap.trouble = str(refused)[:300]
        tap.save(update_fields=["trouble"])
        return tap
    return _with_after(_with_steps(tap, steps))


def _planned(tap: Tap, *, by: User | None, at: datetime) -> PlacingRun:
    """The night placed anew; once work has begun, what is left of it."""
    night, blocks = tap.night, list(tap.night.blocks.all())
    if not blocks or at < moment(night, blocks[0].starts):
        return plan_night(night=night, by=by, seconds=SECONDS, keeping=True)
    now = [b.pk for b in blocks if moment(night, b.starts) <= at < moment(night, b.ends)]
    # The stretch that runs is left alone unless somebody is missing in it.
    is_missed = Placing.objects.filter(block__in=now, person=tap.person_id).exists()
    return replan_rest(night=night, by=by, at=at, seconds=SECONDS, keeps_current=not is_missed)


def _put_back(back: Tap, *, by: User | None, at: datetime) -> Tap:
    undone = back.undoes
    assert undone is not None  # made with the tap that it takes back
    if not undone.before and not back.before:
        back.after = []
        back.save(update_fields=["after"])
        return back
    if not _undo(back.night, undone.steps, at):
        return _place_anew(back, by=by, at=at)
    back.night.refresh_from_db(fields=["plan"])
    back.run = back.night.plan
    return _with_after(back)


@transaction.atomic
def _undo(night: Night, steps: Iterable[int], at: datetime) -> bool:
    """Whether the board's steps could be taken back, the latest first, with nobody left out."""
    steps = list(steps)
    sid = transaction.savepoint()
    try:
        done = [undo_step(night=night, change=step, at=at) for step in reversed(steps)]
    except (NightRefused, PlacingRefused):
        done = []
    if steps and done and not any(each.left_out for each in done):
        transaction.savepoint_commit(sid)
        return True
    transaction.savepoint_rollback(sid)
    return False


def _stands(night: Night) -> list[list[int | str]]:
    return kept(Placing.objects.filter(night=night), list(night.blocks.all()))


def _steps(night: Night) -> int:
    """The latest step of the board so far."""
    last = night.board_changes.order_by("-pk").first()
    return last.pk if last else 0


def _with_steps(tap: Tap, since: int) -> Tap:
    new = tap.night.board_changes.filter(pk__gt=since).order_by("pk").values_list("pk", flat=True)
    tap.steps = [*tap.steps, *new]
    tap.save(update_fields=["steps"])
    return tap


def _with_after(tap: Tap) -> Tap:
    tap.after = _stands(tap.night)
    tap.save(update_fields=["after", "run"])
    return tap
