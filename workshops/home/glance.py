"""The shop at a glance: tonight, what is short, the winter, and what to do next."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from django.urls import reverse

from inventory.ledger.queries import below_level
from inventory.materials.models import Item
from inventory.needs.queries import Needs, latest_needs
from inventory.places.models import Shop
from workshops.access.permissions import Permission
from workshops.home.setting_up import SetUpStep, steps_of
from workshops.nights.clock import today_in
from workshops.nights.models import HandOver, Night
from workshops.nights.permit.queries import moved_lock_up
from workshops.nights.queries import (
    Heads,
    expected_sets,
    heads_expected,
    last_hand_over,
    next_night,
)
from workshops.paper.models import Paper
from workshops.paper.queries import papers_of
from workshops.season.engine.plan import Outlook
from workshops.season.models import Winter
from workshops.season.queries import Progress, latest_outlook, progress_of, winter_of
from workshops.season.showing import stored
from workshops.stock.standing import Standing, short_words

SHORT_SHOWN = 5


@dataclass(frozen=True, slots=True)
class NextStep:
    """The one thing to do next: what to say, on which button, leading where, for whom."""

    says: str
    action: str
    url: str
    needs: Permission


@dataclass(frozen=True)
class Glance:
    """What the home page shows: at most 14 queries, eight more once sparks flew, in any shop."""

    shop: Shop
    is_tonight: bool
    night: Night | None
    coming: int
    guests: int
    hand_over: HandOver | None
    moved: datetime | None
    winter: Winter | None
    progress: Progress | None
    outlook: Outlook | None
    needs: Needs | None
    short: list[tuple[Item, Standing]]
    has_cards: bool
    set_up: list[SetUpStep]

    @property
    def is_being_set_up(self) -> bool:
        """Whether something is missing without which no night can be planned."""
        return any(not step.is_done for step in self.set_up)

    @property
    def sets_tonight(self) -> int:
        """Complete sets the plan adds."""
        return expected_sets(self.night.plan) if self.night else 0

    @property
    def next_step(self) -> NextStep:
        """The first thing that is not done yet, in the order in which an evening needs them."""
        return next(step for step in (ask(self) for ask in _ASKED) if step is not None)


def glance_at(shop: Shop, now: datetime) -> Glance:
    """The shop now. An empty club gets an empty glance, with what to do first."""
    today = today_in(shop, now).date()
    night, winter = next_night(shop, now), winter_of(shop, today)
    run = latest_outlook(winter) if winter else None
    needs = latest_needs(shop)
    before = last_hand_over(night) if night else None
    heads = heads_expected(night) if night else Heads()
    return Glance(
        shop=shop,
        is_tonight=night is not None and night.date == today,
        night=night,
        coming=heads.people,
        guests=heads.guests,
        hand_over=before.hand_over if before else None,
        moved=moved_lock_up(night) if night else None,
        winter=winter,
        progress=progress_of(winter) if winter else None,
        outlook=stored(run) if run else None,
        needs=needs,
        short=short_words(below_level(shop), needs)[:SHORT_SHOWN],
        has_cards=night is not None and _has_cards(night),
        # Once a night was planned, everything that this would ask for is there.
        set_up=steps_of(shop) if night is None or night.plan is None else [],
    )


def _has_cards(night: Night) -> bool:
    return papers_of(night.shop).filter(night=night, kind=Paper.Kind.CARDS).exists()


def _set_up(at: Glance) -> NextStep | None:
    # A club that has a night on the calendar is asked about that night first.
    missing = [step for step in at.set_up if not step.is_done] if at.night is None else []
    step = missing[0] if missing else None
    return NextStep(step.says, step.action, step.url, step.needs) if step else None


def _add_night(at: Glance) -> NextStep | None:
    if at.night is not None:
        return None
    says = "No night is planned. Put the next one on the calendar, then note who comes."
    return NextStep(
        says, "Add a night", reverse("nights:add", args=[at.shop.slug]), Permission.EDIT_NIGHTS
    )


def _ask_people(at: Glance) -> NextStep | None:
    if at.night is None or at.coming:
        return None
    says = "Nobody has said yet that they come."
    return NextStep(says, "Note who comes", _of_night(at, "nights:coming"), Permission.RUN_NIGHT)


def _place(at: Glance) -> NextStep | None:
    if at.night is None or at.night.plan is not None:
        return None
    who = "One person comes" if at.coming == 1 else f"{at.coming} people come"
    says = f"{who} and nobody is placed yet."
    return NextStep(
        says, "Go and place everybody", _of_night(at, "nights:night"), Permission.RUN_NIGHT
    )


def _print_cards(at: Glance) -> NextStep | None:
    if at.night is None or at.has_cards:
        return None
    says = "Everybody is placed. The station cards are not printed yet."
    return NextStep(
        says, "Print the cards", reverse("paper:list", args=[at.shop.slug]), Permission.MAKE_PAPER
    )


def _order(at: Glance) -> NextStep | None:
    late = [line for line in at.needs.buy if line.is_late and not line.is_gone] if at.needs else []
    if not late:
        return None
    says = f"{late[0].item} will be missing before it can be here: order it today."
    return NextStep(
        says, "See what to buy", reverse("stock:needs", args=[at.shop.slug]), Permission.SEE_STOCK
    )


def _look_ahead(at: Glance) -> NextStep | None:
    if at.outlook is not None:
        return None
    says = "Nobody has looked yet whether the winter’s target will be met."
    return NextStep(
        says,
        "Look at the winter",
        reverse("season:winter", args=[at.shop.slug]),
        Permission.SEE_SEASON,
    )


def _open_night(at: Glance) -> NextStep:
    says = "All set. Sign people in as they come; the roll is the evacuation list."
    return NextStep(says, "Open the roll", _of_night(at, "nights:roll"), Permission.RUN_NIGHT)


def _of_night(at: Glance, page: str) -> str:
    assert at.night is not None  # asked for only where there is one
    return reverse(page, args=[at.shop.slug, at.night.date])


_ASKED = (_set_up, _add_night, _ask_people, _place, _print_cards, _order, _look_ahead, _open_night)
