"""What the needs engine answered, in items, units and dates a page can show."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Any

from inventory.materials.models import Item
from inventory.needs.models import NeedsRun
from inventory.needs.telling import sentences
from inventory.needs.translate import THOUSAND


@dataclass(frozen=True, slots=True)
class SetsPossible:
    """Complete sets from what is here. ``item`` is ``None`` for the wanted mix.

    ``blocked``: in the mix, which kinds cannot go on and what each of them lacks.
    """

    item: Item | None
    sets: int
    finished: int
    wanted: int
    parts: tuple[tuple[Item, int], ...]
    stopped_by: tuple[Item, ...]
    is_exact: bool
    blocked: tuple[tuple[Item, tuple[Item, ...]], ...] = ()

    @property
    def more(self) -> int:
        """Sets that can still be completed now, beyond the finished ones."""
        return max(0, self.sets - self.finished)


@dataclass(frozen=True, slots=True)
class RunningOut:
    """A bought thing that does not last for all that is wanted.

    ``after_sets`` counts from now: so many more sets beyond the finished ones. ``is_covered``:
    what is on order comes in time for all that is wanted.
    """

    item: Item
    after_sets: int
    after_nights: int | None
    on_night: date | None
    is_covered: bool = False


def bought_as(item: Item) -> str:
    """What one of an item is called when it is bought: a stick, a roll of wire, or its unit."""
    if not item.is_by_length:
        return item.unit
    return "roll" if item.shape == Item.Shape.WIRE_MESH else "stick"


# What is counted one by one; weights and volumes have no plural: 54 kg, 9,000 litre.
PLURALS = {"stick": "sticks", "roll": "rolls", "bale": "bales", "box": "boxes", "pair": "pairs"}


def counted_as(item: Item, quantity: Decimal) -> str:
    """What so many of an item are called when they are bought: sticks, boxes, kg, pieces."""
    unit = bought_as(item)
    if unit == "each":
        return "piece" if quantity == 1 else "pieces"
    return unit if quantity == 1 else PLURALS.get(unit, unit)


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
    def counted(self) -> str:
        """What the quantity is called: ``sticks``."""
        return counted_as(self.item, self.quantity)

    @property
    def price(self) -> Decimal | None:
        """What the line costs; ``None`` when no price is known."""
        if self.item.unit_price is None:
            return None
        return (self.item.unit_price * self.quantity).quantize(Decimal("0.01"))


@dataclass(frozen=True, slots=True)
class NeedOf:
    """One line of the explosion, in the item's own unit.

    ``length_um`` is that of the pieces cut from a metal, else 0: then ``gross`` and ``net``
    count pieces, and what is here and on order counts sticks of any length. ``scrap`` is how
    many more are begun than are wanted good; ``share`` of a thousand are expected to fail, as
    the club's own tallies say when ``is_own``.
    """

    item: Item
    level: int
    length_um: int
    gross: Decimal
    on_rack: Decimal
    on_hand: Decimal
    on_order: Decimal
    comes_on: date | None
    net: Decimal
    scrap: Decimal
    share: int
    is_own: bool
    is_bought: bool

    @property
    def share_percent(self) -> Decimal:
        """The share that is expected to fail, in per cent."""
        return Decimal(self.share) / 10


@dataclass(frozen=True, slots=True)
class Needs:
    """One answer of the engine. ``sentences`` say the same in words.

    ``on_order``: what was on order of each item that was looked at, when it was worked out.
    """

    run: NeedsRun
    mix: SetsPossible
    variants: tuple[SetsPossible, ...]
    runs_out: tuple[RunningOut, ...]
    buy: tuple[ToBuy, ...]
    exploded: tuple[NeedOf, ...]
    sentences: tuple[str, ...]
    on_order: Mapping[int, Decimal]

    @property
    def stops_first(self) -> RunningOut | None:
        """What stops us first; ``None`` when all that is wanted is possible or comes in time."""
        return next((line for line in self.runs_out if not line.is_covered), None)

    @property
    def assumption(self) -> str:
        """At what pace the nights were reckoned; empty when nobody said."""
        return str(self.run.params.get("assumption", ""))

    @property
    def price(self) -> Decimal:
        """What the buy list costs, lines without a price left out."""
        return sum((line.price for line in self.buy if line.price is not None), Decimal())


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
        exploded=reader.exploded(),
        sentences=(),
        on_order=reader.on_order(),
    )
    return replace(answer, sentences=sentences(answer))


class _Reader:
    """Turns keys and whole numbers of a kept result back into items and quantities."""

    def __init__(self, run: NeedsRun) -> None:
        slugs: dict[str, str] = run.params["items"]
        items = Item.objects.filter(shop=run.shop_id, slug__in=slugs.values())
        by_slug = {item.slug: item for item in items.select_related("shop")}
        self._items = {key: by_slug[slug] for key, slug in slugs.items() if slug in by_slug}
        self._thousandths = set(run.params["thousandths"])
        self._told: dict[str, Any] = run.result
        self._asked = {raw["key"]: raw for raw in run.problem["items"]}
        self._scrap: dict[str, tuple[int, int, bool]] = run.params.get("scrap", {})
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
            blocked=tuple(
                (self._items[key], tuple(self._items[each] for each in lacks))
                for key, lacks in raw.get("blocked", {}).items()
            ),
        )

    def runs_out(self, raw: dict[str, Any]) -> RunningOut:
        night = _day(raw["on_night"])
        # The engine counts all that are wanted; those that are finished take nothing any more.
        more = max(0, raw["after_sets"] - self._finished)
        return RunningOut(
            self._items[raw["item"]], more, raw["after_nights"], night,
            is_covered=raw.get("is_covered", False),
        )  # fmt: skip

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

    def exploded(self) -> tuple[NeedOf, ...]:
        """Sets first, then what they are made from, level by level; metal by piece at the end."""
        lines = [self._need(raw) for raw in self._told["needs"] if raw["gross"] or raw["net"]]
        return (*lines, *(self._piece(raw) for raw in self._told["pieces"]))

    def on_order(self) -> dict[int, Decimal]:
        """Item -> what was on its way, whenever it was to come."""
        known = (key for key in self._asked if key in self._items)
        return {
            self._items[key].pk: self._in_units(key, _ordered(self._asked[key])) for key in known
        }

    def _need(self, raw: dict[str, Any]) -> NeedOf:
        key = raw["item"]
        asked, share = self._asked[key], self._scrap.get(key, (0, 0, False))
        return NeedOf(
            item=self._items[key], level=raw["level"], length_um=0,
            gross=self._in_units(key, raw["gross"]),
            on_rack=self._in_units(key, asked["on_rack"]),
            on_hand=self._in_units(key, asked["on_hand"]),
            on_order=self._in_units(key, _ordered(asked)), comes_on=_comes_on(asked),
            net=self._in_units(key, raw["net"]),
            scrap=self._in_units(key, raw["started"] - raw["net"]),
            share=share[0], is_own=share[2], is_bought=raw["is_bought"],
        )  # fmt: skip

    def _piece(self, raw: dict[str, Any]) -> NeedOf:
        asked, nothing = self._asked[raw["material"]], Decimal()
        return NeedOf(
            item=self._items[raw["material"]], level=99, length_um=raw["length"],
            gross=Decimal(raw["gross"]), on_rack=nothing,
            on_hand=Decimal(sum(lot["count"] for lot in asked["sticks"])),
            on_order=Decimal(_ordered(asked)), comes_on=_comes_on(asked),
            net=Decimal(raw["count"]), scrap=nothing, share=0, is_own=False, is_bought=True,
        )  # fmt: skip

    def _in_units(self, key: str, whole: int) -> Decimal:
        return Decimal(whole) / (THOUSAND if key in self._thousandths else 1)


def _day(text: str | None) -> date | None:
    return None if text is None else date.fromisoformat(text)


def _ordered(asked: dict[str, Any]) -> int:
    return sum(order["quantity"] for order in asked.get("orders", ()))


def _comes_on(asked: dict[str, Any]) -> date | None:
    """The first day on which some of it comes; ``None`` when nobody knows one."""
    return min((_day(row["date"]) for row in asked.get("orders", ()) if row["date"]), default=None)  # type: ignore[type-var]
