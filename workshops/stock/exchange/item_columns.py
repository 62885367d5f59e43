"""The columns of the list of items: one a field, under the words of the item's own form."""

from __future__ import annotations

from inventory.materials.models import Item
from inventory.places.models import Shop
from workshops.common.columns import (
    Column,
    Reader,
    choice,
    day,
    length,
    money,
    whole,
    words,
    yes_no,
)

LENGTHS = (
    "outside_um", "wall_um", "wire_um", "bale_length_um", "bale_width_um", "bale_height_um",
    "kerf_um", "trim_um", "keep_um", "bought_length_um",
)  # fmt: skip
# field: value: the words it is read by, the first of which is written
CHOICES: dict[str, dict[str, tuple[str, ...]]] = {
    "kind": {value: (str(label), value) for value, label in Item.Kind.choices},
    "shape": {value: (str(label), value) for value, label in Item.Shape.choices if value},
    "group": {value: (str(label), value) for value, label in Item.Group.choices if value},
}
# field, heading, other headings, help, example
_TABLE: tuple[tuple[str, str, tuple[str, ...], str, str], ...] = (
    ("name", "Name", ("item",), "what people call it", "Square tube 2 in"),
    ("size", "Size", (), "said beside the name: L, 11 lb spool", ""),
    ("kind", "Kind", ("what is it",), "a new item needs one; it never changes", "metal"),
    ("unit", "Counted in", ("unit",), "each, kg, bale, box", "each"),
    ("home", "Kept at", ("home", "place"), "where it is kept", "Tube rack"),
    ("keep_at_least", "Keep at least", ("minimum", "short below"), "fewer are short", "6"),
    ("rack_limit", "Rack holds", (), "empty for no limit", ""),
    ("group", "Group", (), "which shelf of supplies", ""),
    ("shape", "Section", ("shape",), "for what is cut from by length", "square tube"),
    ("outside_um", "Side or diameter", ("outside",), "", "2 in"),
    ("wall_um", "Wall", (), "", "1/8 in"),
    ("wire_um", "Wire of the mesh", ("wire",), "", ""),
    ("mesh", "Mesh", (), "2 x 4 in", ""),
    ("bale_length_um", "Bale length", (), "all three sizes of a bale, or none", ""),
    ("bale_width_um", "Bale width", (), "", ""),
    ("bale_height_um", "Bale height", (), "", ""),
    ("bale_weight_g", "Bale weight g", ("bale weight",), "in grams", ""),
    ("loose_g_per_litre", "Loose g per litre", (), "what a litre weighs shaken loose", ""),
    ("kerf_um", "One cut takes", ("kerf",), "", "1/8 in"),
    ("trim_um", "Cut off each end", ("trim",), "", ""),
    ("keep_um", "Drops are kept from", ("keep drops from",), "shorter ones are scrap", "1 ft"),
    ("bought_length_um", "Bought so long", ("bought length",), "", "20 ft"),
    ("supplier", "Supplier", ("from whom",), "", "Reed Steel"),
    ("pack_size", "In a pack", ("pack size",), "", "5"),
    ("pack_name", "Pack is a", ("pack name",), "box, bag, spool, bundle", "bundle"),
    ("lead_days", "Days from order to here", ("lead days",), "", "7"),
    ("unit_price", "Price of one", ("price",), "", "48.50"),
    ("is_one_chance", "Bought once a year", ("one chance",), "yes or no", "no"),
    ("last_order_on", "Last day to order", ("last order",), "2026-09-30", ""),
)
FIELDS = tuple(row[0] for row in _TABLE)
HEADINGS = {row[0]: row[1] for row in _TABLE}
_READERS: dict[str, Reader] = {"unit_price": money, "is_one_chance": yes_no}
_LONG = 500  # the item's own limits are told by the item itself


def columns(shop: Shop) -> list[Column]:
    """The key, then every field of an item."""
    key = Column(
        "key", "Key", words(60), ("item key", "slug"),
        help="the last word of its page's address; empty for a new item",
    )  # fmt: skip
    made = [
        Column(name, heading, _reader(name, shop), also, is_required=name == "name",
               help=says, example=example)
        for name, heading, also, says, example in _TABLE
    ]  # fmt: skip
    return [key, *made]


def _reader(name: str, shop: Shop) -> Reader:
    if name in _READERS:
        return _READERS[name]
    if name in LENGTHS:
        return length(shop.length_units)
    if name in CHOICES:
        return choice(CHOICES[name])
    if name == "last_order_on":
        return day(month_first=shop.paper_size == Shop.PaperSize.LETTER)
    kind = Item._meta.get_field(name).get_internal_type()
    return whole if kind == "PositiveIntegerField" else words(_LONG)
