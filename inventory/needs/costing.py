"""What a set costs: every material it takes, at its average price, bought and given apart."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_HALF_UP, Decimal

from django.db.models import BigIntegerField, F, Q, Sum
from django.db.models.functions import Cast, Round, TruncDate

from inventory.ledger.costs import CENT
from inventory.ledger.cutting_from import Saw, cut_from
from inventory.ledger.models import Balance, Entry, Line
from inventory.materials.models import Item, Recipe
from inventory.materials.queries import recipes_in_use, sets_of
from inventory.needs.prices import MILLION, THOUSAND, Price, lines_until, prices_of
from inventory.needs.scrap import Scrap
from inventory.places.models import Shop

ENOUGH_STICKS = 5  # cut, before their offcuts say more than chance does
IN_ORDER = (Item.Kind.METAL, Item.Kind.FILL, Item.Kind.SMALL, Item.Kind.RACK, Item.Kind.SET)
TRIAL_SETS = 24  # cut on paper where the club has not cut enough: a night or two of work


@dataclass(frozen=True, slots=True)
class Share:
    """What one set takes of one material.

    ``quantity`` is in the item's unit, or in metres of metal; ``pieces`` are the lengths cut
    (micrometres) with how many of each. ``waste`` is what is of no more use for each part used,
    saw cuts apart, and ``is_own`` says that the club's own cutting told it: offcuts thrown away,
    and drops in the rack from which no parts list cuts anything.
    """

    item: Item
    quantity: Decimal
    pieces: tuple[tuple[int, Decimal], ...]
    waste: Decimal
    is_own: bool
    price: Price

    @property
    def bought(self) -> Decimal | None:
        """Money for it; 0 when all that is there was given; ``None`` without a price."""
        return self._worth(self.price.bought, 1 - self.price.given_share)

    @property
    def given(self) -> Decimal | None:
        """The value of what was given of it; ``None`` without a value."""
        return self._worth(self.price.given, self.price.given_share)

    @property
    def length_um(self) -> int:
        """Metal in a set, end to end; 0 for what is not metal."""
        return int(self.quantity * MILLION) if self.pieces else 0

    def _worth(self, price: Decimal | None, share: Decimal) -> Decimal | None:
        if not share:
            return Decimal()
        return None if price is None else self.quantity * share * price


@dataclass(frozen=True, slots=True)
class SetCost:
    """What one set of a kind costs. Money is rounded where it is shown, never in between."""

    item: Item
    shares: tuple[Share, ...]

    @property
    def bought(self) -> Decimal:
        """Money paid, to the cent; at least so much when something has no price."""
        return _to_cent(share.bought for share in self.shares)

    @property
    def given(self) -> Decimal:
        """The value of gifts in it, to the cent."""
        return _to_cent(share.given for share in self.shares)

    @property
    def unpriced(self) -> tuple[Item, ...]:
        """What has no price, so that the sums are "at least"."""
        return tuple(s.item for s in self.shares if s.bought is None or s.given is None)


def costs_of_sets(shop: Shop, until: date, scrap: Mapping[int, Scrap]) -> tuple[SetCost, ...]:
    """What one set of each kind costs at the end of a day. 8 queries; empty without sets.

    One query more where a gift was set aside at the door. Pieces expected to fail take
    material too: ``scrap`` says how many do.
    """
    recipes, kinds = recipes_in_use(shop), list(sets_of(shop))
    taken = {kind.pk: _taken(kind.pk, recipes, scrap) for kind in kinds if kind.pk in recipes}
    items = {item.pk: item for each in taken.values() for item, _ in each}
    prices = prices_of(shop, list(items.values()), until)
    shortest = _shortest(recipes)
    waste = _own_waste(shop, list(items.values()), shortest, until)
    return tuple(
        SetCost(
            kind,
            tuple(
                _share(item, parts, prices[item.pk], own=waste.get(item.pk), shortest=shortest)
                for item, parts in _by_item(taken[kind.pk])
            ),
        )
        for kind in kinds
        if kind.pk in taken
    )


# (item, length or 0) -> how many, or how much
_Taken = dict[tuple[Item, int], Decimal]


def _taken(kind: int, recipes: Mapping[int, Recipe], scrap: Mapping[int, Scrap]) -> _Taken:
    """What one set comes to in bought things, shares of a batch included."""
    found: defaultdict[tuple[Item, int], Decimal] = defaultdict(Decimal)

    # As deep as things are put together; the parts lists go in no circle.
    def take(output: int, count: Decimal) -> None:
        recipe, fails = recipes[output], scrap.get(output)
        begun = count * 1000 / (1000 - (fails.per_mille if fails else 0)) / recipe.quantity
        for line in recipe.lines.all():
            if line.item_id in recipes:
                take(line.item_id, begun * line.quantity)
            else:
                found[line.item, line.length_um] += begun * line.quantity

    take(kind, Decimal(1))
    return found


def _by_item(taken: _Taken) -> list[tuple[Item, list[tuple[int, Decimal]]]]:
    """Each material with its lengths and how many of each; metal, fill, small parts by name."""
    found: defaultdict[Item, list[tuple[int, Decimal]]] = defaultdict(list)
    for (item, length), count in taken.items():
        found[item].append((length, count))
    return sorted(found.items(), key=lambda row: (IN_ORDER.index(row[0].kind), row[0].name))


def _shortest(recipes: Mapping[int, Recipe]) -> dict[int, int]:
    """Metal -> the shortest piece that any parts list cuts from it."""
    found: dict[int, int] = {}
    for recipe in recipes.values():
        for line in recipe.lines.all():
            if line.length_um:
                found[line.item_id] = min(line.length_um, found.get(line.item_id, line.length_um))
    return found


def _share(
    item: Item,
    parts: Sequence[tuple[int, Decimal]],
    price: Price,
    *,
    own: Decimal | None,
    shortest: Mapping[int, int],
) -> Share:
    if not item.is_by_length:
        return Share(item, sum((n for _, n in parts), Decimal()), (), Decimal(), False, price)
    waste = _waste_on_paper(item, parts, shortest[item.pk]) if own is None else own
    cut = sum((n * (length + item.kerf_um) for length, n in parts), Decimal()) / MILLION
    pieces = tuple(sorted(parts, reverse=True))
    return Share(item, cut * (1 + waste), pieces, waste, own is not None, price)


def _waste_on_paper(item: Item, parts: Iterable[tuple[int, Decimal]], shortest: int) -> Decimal:
    """What is of no use for each part used, when some sets are cut from whole sticks, best fit."""
    # At least one of each: a batch that serves fifty sets is cut once.
    lengths = [length for length, n in parts for _ in range(max(1, int(n * TRIAL_SETS)))]
    taken = cut_from(Saw.of(item), lengths, (), spare=None)
    used = sum(length + item.kerf_um for length in lengths)
    useful = {length: n for (_, length), n in taken.drops.items() if length >= shortest}
    return Decimal(max(0, _metal(taken.missing) - _metal(useful) - used)) / used


def _metal(counts: Mapping[int, int]) -> int:
    return sum(length * count for length, count in counts.items())


def _own_waste(
    shop: Shop, items: Iterable[Item], shortest: Mapping[int, int], until: date
) -> dict[int, Decimal]:
    """Metal -> what became of no use for each part used, where enough was cut. 3 queries."""
    metals = {item.pk: item for item in items if item.is_by_length}
    if not metals:
        return {}
    too_short = _too_short(metals, shortest)
    lines = lines_until(shop, metals, until).filter(
        # A drop thrown out of the rack in spring is waste of the winter's cutting; a rusty
        # stick is not.
        Q(entry__kind__in=(Entry.Kind.MADE, Entry.Kind.CUT))
        | Q(too_short, entry__kind=Entry.Kind.SCRAP),
        account__in=(Line.Account.USED, Line.Account.SCRAP),
    )
    rows = lines.values_list("item", "account").annotate(length=Sum(_METAL))
    sums = {(item, account): length // 1000 for item, account, length in rows}
    short = _short_drops(shop, too_short, until)
    found = {}
    for pk, item in metals.items():
        used = sums.get((pk, Line.Account.USED), 0)
        if used >= ENOUGH_STICKS * (item.bought_length_um or 0) > 0:
            # Such a drop went back to the rack, so it is not among what was thrown away.
            lost = sums.get((pk, Line.Account.SCRAP), 0) + short.get(pk, 0)
            found[pk] = Decimal(lost) / used
    return found


# Whole thousandths and micrometres: SQLite would add decimals as floats.
_METAL = Cast(Round(F("quantity") * THOUSAND), BigIntegerField()) * F("length_um")


def _too_short(metals: Iterable[int], shortest: Mapping[int, int]) -> Q:
    """Pieces of the metals from which no parts list cuts anything."""
    found = Q()
    for metal in metals:
        found |= Q(item=metal, length_um__lt=shortest[metal], length_um__gt=0)
    return found


def _short_drops(shop: Shop, too_short: Q, until: date) -> dict[int, int]:
    """Metal -> drops of no use that lay in the rack at the end of the day. 2 queries."""
    lying = Balance.objects.filter(too_short, quantity__gt=0).order_by()
    found = Counter(dict(lying.values_list("item").annotate(length=Sum(_METAL))))
    # Counted back from today: what lies there is kept, and few things moved since.
    since = Line.objects.filter(
        too_short, account=Line.Account.SHELF, entry__correction__isnull=True,
        entry__corrects__isnull=True,
    ).annotate(day=TruncDate("entry__at", tzinfo=shop.zone)).filter(day__gt=until)  # fmt: skip
    found.subtract(dict(since.order_by().values_list("item").annotate(length=Sum(_METAL))))
    return {metal: length // 1000 for metal, length in found.items()}


def _to_cent(values: Iterable[Decimal | None]) -> Decimal:
    known = (value for value in values if value is not None)
    return sum(known, Decimal()).quantize(CENT, ROUND_HALF_UP)
