"""The stock page: a leaf of items, grouped, with what there is and what is short."""

from __future__ import annotations

from dataclasses import dataclass

from django.core.paginator import Page, Paginator
from django.db.models import Case, IntegerField, Value, When

from inventory.ledger.queries import OnHand, below_level, on_hand
from inventory.materials.models import Item
from inventory.materials.queries import items_of, parts_by_output
from inventory.measures.lengths import MICROMETRES_PER_FOOT, Units, spell_inches
from inventory.needs.queries import latest_needs
from inventory.places.models import Shop
from workshops.stock.standing import Standing, after_sets_of, short_words, standing_of

LEAF = 60  # rows to a leaf: short enough for a slow tablet
LENGTHS_SHOWN = 5

GROUPS: dict[str, str] = {
    Item.Kind.METAL: "Metal",
    Item.Kind.FILL: "Straw and hay",
    Item.Kind.SMALL: "Small parts",
    Item.Kind.RACK: "On the rack",
    Item.Kind.SET: "Complete sets",
}
IN_ORDER = Case(
    *(When(kind=kind, then=Value(place)) for place, kind in enumerate(GROUPS)),
    output_field=IntegerField(),
)


@dataclass(frozen=True, slots=True)
class Row:
    """One item as the page shows it."""

    there: OnHand
    group: str
    total: str
    standing: Standing | None

    @property
    def item(self) -> Item:
        """The item itself."""
        return self.there.item

    @property
    def unit(self) -> str:
        """What the good ones are counted in."""
        return unit_of(self.item)

    @property
    def more_lengths(self) -> int:
        """How many lengths there are beyond those shown."""
        return max(0, len(self.there.lengths) - LENGTHS_SHOWN)


@dataclass(frozen=True, slots=True)
class Leaf:
    """Rows of one leaf, and what is short in the whole shop; ``is_asked``: as to the winter too."""

    page: Page[Item]
    rows: tuple[Row, ...]
    short: tuple[tuple[Item, Standing], ...]
    is_asked: bool


def leaf_of(shop: Shop, *, search: str = "", kind: str = "", number: str | int = 1) -> Leaf:
    """One leaf of the stock, searched and grouped. 8 queries, whatever the size."""
    items = items_of(shop, search)
    if kind in GROUPS:
        items = items.filter(kind=kind)
    page = Paginator(items.order_by(IN_ORDER, "name"), LEAF).get_page(number)
    needs = latest_needs(shop)
    used = set[int]().union(*parts_by_output(shop).values())
    after = after_sets_of(needs)
    rows = [
        Row(
            there,
            GROUPS[there.item.kind],
            far(there.metal_um, shop.length_units),
            standing_of(there, is_used=there.item.pk in used, after_sets=after),
        )
        for there in on_hand(shop, list(page.object_list))
    ]
    short = short_words(list(below_level(shop)), needs)
    return Leaf(page, tuple(rows), tuple(short), is_asked=needs is not None)


def unit_of(item: Item) -> str:
    """What the good ones are counted in; empty for things counted one by one."""
    if item.is_by_length:
        return "pieces"
    return "" if item.unit == "each" else item.unit


def far(micrometres: int, units: Units) -> str:
    """A long length as people say it: ``412 ft 6 in`` or ``125.73 m``; empty for nothing."""
    if not micrometres:
        return ""
    if units is Units.MILLIMETRE:
        metres, rest = divmod(round(micrometres / 10_000), 100)
        return f"{metres}.{rest:02} m"
    whole, rest = divmod(micrometres, MICROMETRES_PER_FOOT)
    inches = spell_inches(rest, finest=1)
    if inches == "12":
        whole, inches = whole + 1, "0"
    return f"{whole} ft" if inches == "0" else f"{whole} ft {inches} in"
