"""What the needs engine answers, in items, units and dates a page can show."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from django.utils import timezone

from inventory.engines.stop import Seconds
from inventory.ledger.queries import on_hand
from inventory.materials.models import Item
from inventory.materials.queries import recipes_in_use
from inventory.needs.engine.solve import solve
from inventory.needs.models import NeedsRun
from inventory.needs.telling import sentences
from inventory.needs.translate import THOUSAND, Asked, Keys, Night, problem_of, row_of
from inventory.places.models import Shop


class NeedsRefused(ValueError):
    """Needs that cannot be worked out; the sentence says what is wrong."""


@dataclass(frozen=True, slots=True)
class SetsPossible:
    """Complete sets from what is here. ``item`` is ``None`` for the wanted mix."""

    item: Item | None
    sets: int
    finished: int
    wanted: int
    parts: tuple[tuple[Item, int], ...]
    stopped_by: tuple[Item, ...]
    is_exact: bool

    @property
    def more(self) -> int:
        """Sets that can still be completed now, beyond the finished ones."""
        return max(0, self.sets - self.finished)


@dataclass(frozen=True, slots=True)
class RunningOut:
    """A bought thing that does not last for all that is wanted.

    ``after_sets`` counts from now: so many more sets beyond the finished ones.
    """

    item: Item
    after_sets: int
    after_nights: int | None
    on_night: date | None


def bought_as(item: Item) -> str:
    """What one of an item is called when it is bought: a stick, a roll of wire, or its unit."""
    if not item.is_by_length:
        return item.unit
    return "roll" if item.shape == Item.Shape.WIRE_MESH else "stick"


@dataclass(frozen=True, slots=True)
class ToBuy:
    """A line of the buy list, in the item's own unit; sticks for metal."""

    item: Item
    short: Decimal
    packs: int
    quantity: Decimal
    needed_on: date | None
    order_by: date | None
    is_late: bool
    is_one_chance: bool
    is_gone: bool
    is_exact: bool

    @property
    def unit(self) -> str:
        """What the quantity counts."""
        return bought_as(self.item)

    @property
    def price(self) -> Decimal | None:
        """What the line costs; ``None`` when no price is known."""
        if self.item.unit_price is None:
            return None
        return (self.item.unit_price * self.quantity).quantize(Decimal("0.01"))


@dataclass(frozen=True, slots=True)
class Needs:
    """One answer of the engine. ``sentences`` say the same in words."""

    run: NeedsRun
    mix: SetsPossible
    variants: tuple[SetsPossible, ...]
    runs_out: tuple[RunningOut, ...]
    buy: tuple[ToBuy, ...]
    sentences: tuple[str, ...]

    @property
    def stops_first(self) -> RunningOut | None:
        """What runs out first; ``None`` when all that is wanted is possible."""
        return self.runs_out[0] if self.runs_out else None

    @property
    def price(self) -> Decimal:
        """What the buy list costs, lines without a price left out."""
        return sum((line.price for line in self.buy if line.price is not None), Decimal())


def needs_of(
    shop: Shop, wanted: Mapping[int, int], *, today: date | None = None, seconds: float = 1
) -> Needs:
    """The needs for so many sets by item, worked out now and not kept. 5 queries.

    Raises
    ------
    NeedsRefused
        As ``worked_out``.
    """
    day = today or timezone.now().astimezone(shop.zone).date()
    return needs_in(worked_out(shop, wanted, today=day, seconds=seconds))


def latest_needs(shop: Shop) -> Needs | None:
    """The last answer that was kept; ``None`` for a shop that never asked. 2 queries."""
    run = NeedsRun.objects.filter(shop=shop).first()
    return None if run is None else needs_in(run)


def worked_out(
    shop: Shop,
    wanted: Mapping[int, int],
    *,
    today: date,
    nights: Sequence[Night] = (),
    scrap_per_mille: Mapping[int, int] | None = None,
    seconds: float = 3,
) -> NeedsRun:
    """The answer as a row that is not kept yet. 4 queries.

    Raises
    ------
    NeedsRefused
        When a wanted item is no item of the shop, or the recipes go in a circle.
    """
    asked = Asked(
        shop=shop,
        stock=on_hand(shop),
        recipes=recipes_in_use(shop),
        wanted=wanted,
        today=today,
        nights=nights,
        scrap_per_mille=scrap_per_mille,
    )
    keys = Keys.of(asked)
    # Checked here: the engine would name a number that means nothing to a person.
    if not set(wanted) <= set(keys.by_item):
        raise NeedsRefused("A wanted set is no item of this shop.")
    try:
        problem = problem_of(asked, keys)
    except ValueError as error:
        raise NeedsRefused(f"The needs cannot be worked out: {error}.") from error
    return row_of(solve(problem, stop=Seconds(seconds)), keys, asked)


def needs_in(run: NeedsRun) -> Needs:
    """The answer of a run, with its items. 1 query."""
    reader = _Reader(run)
    told = run.result
    answer = Needs(
        run=run,
        mix=reader.possible(told["mix"]),
        variants=tuple(reader.possible(raw) for raw in told["possible"]),
        runs_out=tuple(reader.runs_out(raw) for raw in told["runs_out"]),
        buy=tuple(reader.to_buy(raw) for raw in told["buy"]),
        sentences=(),
    )
    return Needs(run, answer.mix, answer.variants, answer.runs_out, answer.buy, sentences(answer))


class _Reader:
    """Turns keys and whole numbers of a kept result back into items and quantities."""

    def __init__(self, run: NeedsRun) -> None:
        slugs: dict[str, str] = run.params["items"]
        items = Item.objects.filter(shop=run.shop_id, slug__in=slugs.values())
        by_slug = {item.slug: item for item in items.select_related("shop")}
        self._items = {key: by_slug[slug] for key, slug in slugs.items() if slug in by_slug}
        self._thousandths = set(run.params["thousandths"])
        self._finished: int = run.result["mix"]["finished"]
        self._wanted = {raw["item"]: raw["wanted"] for raw in run.problem["variants"]}

    def possible(self, raw: dict[str, Any]) -> SetsPossible:
        variant = raw["variant"]
        wanted = sum(self._wanted.values()) if variant is None else self._wanted[variant]
        return SetsPossible(
            item=None if variant is None else self._items.get(variant),
            sets=raw["sets"],
            finished=raw["finished"],
            wanted=wanted,
            parts=tuple((self._items[key], n) for key, n in raw["parts"].items()),
            stopped_by=tuple(self._items[key] for key in raw["stopped_by"]),
            is_exact=raw["is_exact"],
        )

    def runs_out(self, raw: dict[str, Any]) -> RunningOut:
        night = _day(raw["on_night"])
        # The engine counts all that are wanted; those that are finished take nothing any more.
        more = max(0, raw["after_sets"] - self._finished)
        return RunningOut(self._items[raw["item"]], more, raw["after_nights"], night)

    def to_buy(self, raw: dict[str, Any]) -> ToBuy:
        item = self._items[raw["item"]]
        return ToBuy(
            item=item,
            short=self._in_units(raw["item"], raw["short"]),
            packs=raw["packs"],
            quantity=self._in_units(raw["item"], raw["quantity"]),
            needed_on=_day(raw["needed_on"]),
            order_by=_day(raw["order_by"]),
            is_late=raw["is_late"],
            is_one_chance=raw["is_one_chance"] or item.is_one_chance,
            is_gone=raw["is_gone"],
            is_exact=raw["is_exact"],
        )

    def _in_units(self, key: str, whole: int) -> Decimal:
        return Decimal(whole) / (THOUSAND if key in self._thousandths else 1)


def _day(text: str | None) -> date | None:
    return None if text is None else date.fromisoformat(text)
