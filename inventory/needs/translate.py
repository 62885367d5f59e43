"""Stock, recipes and wanted sets into a needs problem, the answer into a row.

The engine counts in whole numbers. An item of which a recipe takes a share (a quarter of a
bale) is handed over in thousandths, and the row remembers which items those are.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal

from inventory.deliveries.expected import Coming
from inventory.engines.models import EngineRun
from inventory.ledger.queries import OnHand
from inventory.materials.models import Item, Recipe
from inventory.needs.engine import problem as engine
from inventory.needs.engine.plan import NeedsPlan
from inventory.needs.models import NeedsRun
from inventory.needs.scrap import Scrap
from inventory.places.models import Shop

VERSION = "1"
THOUSAND = 1000

# A date and how many sets are usually finished on such a night, or what is made of each item
# by its id. All nights of one question say the same of the two.
Night = tuple[date, int | Mapping[int, int]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """Everything the problem is made from."""

    shop: Shop
    stock: Sequence[OnHand]
    recipes: Mapping[int, Recipe]
    wanted: Mapping[int, int]
    today: date
    nights: Sequence[Night] = ()
    scrap: Mapping[int, Scrap] = field(default_factory=dict)
    coming: Sequence[Coming] = ()
    assumption: str = ""


@dataclass(frozen=True, slots=True)
class Keys:
    """What each item is called in the problem, and which are counted in thousandths."""

    by_item: Mapping[int, str]
    slugs: Mapping[str, str]
    in_thousandths: frozenset[int]

    @classmethod
    def of(cls, asked: Asked) -> Keys:
        """Items by name; by name and slug where two share a name."""
        items = [row.item for row in asked.stock]
        names = Counter(item.name for item in items)
        keys = {
            item.pk: item.name if names[item.name] == 1 else f"{item.name} ({item.slug})"
            for item in items
        }
        slugs = {keys[item.pk]: item.slug for item in items}
        return cls(keys, slugs, frozenset(_shared_out(asked.recipes)))

    def whole(self, item: int, quantity: Decimal | int) -> int:
        """The quantity as the engine counts it, never more than there is."""
        return int(quantity * (THOUSAND if item in self.in_thousandths else 1))


def problem_of(asked: Asked, keys: Keys) -> engine.NeedsProblem:
    """The engine's problem.

    Raises
    ------
    ValueError
        From the engine, naming the recipe or item that makes no sense.
    """
    longest = _longest_pieces(asked.recipes.values())
    orders = _orders(asked, keys)
    items = [_item(row, keys, longest, orders.get(row.item.pk, ())) for row in asked.stock]
    return engine.NeedsProblem(
        items=tuple(item for item in items if item is not None),
        recipes=tuple(_recipe(recipe, keys, asked) for recipe in asked.recipes.values()),
        variants=tuple(
            engine.Variant(keys.by_item[item], count) for item, count in asked.wanted.items()
        ),
        nights=tuple(_night(night, keys) for night in asked.nights),
        today=asked.today.isoformat(),
    )


def row_of(plan: NeedsPlan, keys: Keys, asked: Asked) -> NeedsRun:
    """The answer as an unsaved row."""
    parts = (plan.mix, *plan.possible)
    is_exact = all(part.is_exact for part in parts) and all(line.is_exact for line in plan.buy)
    thousandths = sorted(keys.by_item[item] for item in keys.in_thousandths)
    return NeedsRun(
        shop=asked.shop,
        problem=plan.problem.to_json(),
        params={
            "items": dict(keys.slugs),
            "thousandths": thousandths,
            "assumption": asked.assumption,
            "scrap": {
                keys.by_item[item]: [share.per_mille, share.begun, share.is_own]
                for item, share in asked.scrap.items()
                if item in keys.by_item
            },
        },
        version=VERSION,
        status=EngineRun.Status.PROVEN if is_exact else EngineRun.Status.FOUND,
        result=plan.to_json(),
        seconds=plan.seconds,
    )


def _shared_out(recipes: Mapping[int, Recipe]) -> Iterable[int]:
    """Items of which some recipe takes less than a whole."""
    for recipe in recipes.values():
        for line in recipe.lines.all():
            if line.quantity % 1:
                yield line.item_id


def _longest_pieces(recipes: Iterable[Recipe]) -> dict[int, int]:
    """The longest piece that any recipe cuts from each material."""
    longest: dict[int, int] = {}
    for recipe in recipes:
        for line in recipe.lines.all():
            if line.length_um:
                longest[line.item_id] = max(longest.get(line.item_id, 0), line.length_um)
    return longest


def _night(night: Night, keys: Keys) -> engine.Night:
    day, made = night
    if isinstance(made, int):
        return engine.Night(day.isoformat(), made)
    # Zeros are left out, and what the shop no longer counts.
    pieces = {keys.by_item[item]: n for item, n in made.items() if n and item in keys.by_item}
    return engine.Night(day.isoformat(), 0, pieces)


def _orders(asked: Asked, keys: Keys) -> dict[int, tuple[engine.OnOrder, ...]]:
    """What is still to come, by item. A day that has passed is no day to count on."""
    found: dict[int, tuple[engine.OnOrder, ...]] = {}
    for row in asked.coming:
        item, day = row.item, row.order.expected_on
        told = engine.OnOrder(
            int(row.left) if item.is_by_length else keys.whole(item.pk, row.left),
            day.isoformat() if day is not None and day >= asked.today else None,
            row.line.length_um or None if item.is_by_length else None,
        )
        found[item.pk] = (*found.get(item.pk, ()), told)
    return found


def _item(
    row: OnHand, keys: Keys, longest: Mapping[int, int], orders: tuple[engine.OnOrder, ...]
) -> engine.Item | None:
    """The engine's item; ``None`` for metal that no recipe cuts."""
    item = row.item
    bare = replace(_bought(item, keys), orders=() if item.is_by_length else orders)
    if item.is_by_length:
        if item.pk not in longest:
            return None
        return replace(
            bare,
            sticks=tuple(_lot(item, part.length_um, int(part.good)) for part in row.lengths),
            stick_length=item.bought_length_um or longest[item.pk] + 2 * item.trim_um,
            kerf=item.kerf_um,
            trim=max(item.trim_um, item.kerf_um) if item.trim_um else 0,
            orders=orders,
        )
    # What is on hold is left out: it may turn out to be scrap.
    there = keys.whole(item.pk, row.good)
    is_rack = item.kind == Item.Kind.RACK
    return replace(
        bare,
        on_hand=0 if is_rack else there,
        on_rack=there if is_rack else 0,
        keep_at_least=0 if item.kind == Item.Kind.SET else keys.whole(item.pk, item.keep_at_least),
    )


def _lot(item: Item, length_um: int, count: int) -> engine.Lot:
    is_drop = item.bought_length_um is not None and length_um < item.bought_length_um
    return engine.Lot(length_um, count, is_drop)


def _bought(item: Item, keys: Keys) -> engine.Item:
    """How the item is bought; nothing of it is there yet."""
    last = item.last_order_on
    return engine.Item(
        keys.by_item[item.pk],
        pack=keys.whole(item.pk, item.pack_size),
        lead_days=item.lead_days,
        last_order=last.isoformat() if last else None,
        supplier=item.supplier,
    )


def _recipe(recipe: Recipe, keys: Keys, asked: Asked) -> engine.Recipe:
    made = keys.whole(recipe.output_id, recipe.quantity)
    share = asked.scrap.get(recipe.output_id)
    return engine.Recipe(
        output=keys.by_item[recipe.output_id],
        inputs=tuple(
            engine.Input(
                keys.by_item[line.item_id],
                keys.whole(line.item_id, line.quantity),
                line.length_um or None,
            )
            for line in recipe.lines.all()
        ),
        makes=made,
        scrap_per_mille=share.per_mille if share else 0,
    )
