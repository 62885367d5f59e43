"""The columns of the list of movements."""

from __future__ import annotations

from datetime import date

from inventory.ledger.models import Entry
from inventory.places.models import Shop
from workshops.common.columns import (
    Column,
    Reader,
    amount,
    choice,
    day,
    length,
    moment,
    money,
    words,
    yes_no,
)

KINDS: dict[str, tuple[str, ...]] = {
    value: (str(label), value) for value, label in Entry.Kind.choices
}


def columns(shop: Shop) -> list[Column]:
    """The columns: what moved, from where to where, when and why."""
    month_first = shop.paper_size == Shop.PaperSize.LETTER
    return [
        Column("at", "When", moment(shop.zone, month_first=month_first), ("date", "day"),
               is_required=True, help="2026-01-14, with or without a time", example="2026-01-14"),
        Column("kind", "Kind", choice(KINDS), ("movement",), is_required=True,
               help=", ".join(said[0] for said in KINDS.values()), example="goods in"),
        Column("item", "Item", words(120), ("name", "what"), help="its name; or give its key",
               example="Square tube 2 in"),
        Column("key", "Key", words(60), ("item key",),
               help="the last word of its page's address"),
        Column("length", "Length", length(shop.length_units), ("each so long",),
               help="of each piece, for what is cut from by length", example="20 ft"),
        Column("quantity", "Quantity", amount, ("how many", "count", "qty"), is_required=True,
               help="always more than nothing; from and to say which way", example="12"),
        Column("source", "From", words(80), ("from place",),
               help="a place; “Rack (on hold)”; or (outside), (made here); often empty"),
        Column("target", "To", words(80), ("to place", "place"),
               help="a place; or (used up), (scrap), (outside); often empty", example="Tube rack"),
        Column("reason", "Why", words(200), ("reason", "note"), help="asked for scrap and hold"),
        Column("who", "Who", words(60), ("by",), help="kept beside the reason"),
        Column("night", "Night", _night(month_first), ("shop night",), help="its date"),
        Column("paper", "Paper", words(80), ("sheet",), help="the sheet or note it came from"),
        Column("supplier", "From whom", words(80), ("supplier", "donor"),
               help="asked for goods in", example="Reed Steel"),
        Column("is_donated", "Given", yes_no, ("donated",), help="yes or no", example="no"),
        Column("value", "Worth in all", money, ("worth", "value"), example="240.00"),
        Column("value_basis", "How the worth was set", words(120), ("worth basis",)),
        Column("mark", "Mark", words(60), ("number",),
               help="your own number of the movement; rows of one mark are one entry"),
    ]  # fmt: skip


def _night(month_first: bool) -> Reader:
    read = day(month_first=month_first)

    def night(text: str) -> str:
        on: date = read(text)
        return on.isoformat()

    return night
