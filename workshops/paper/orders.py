"""Purchase orders as pages: whole packs, spelled sizes, prices, wanted by, deliver to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Any

from django.template.loader import render_to_string

from inventory.deliveries.models import Order, OrderLine
from inventory.ledger.refusals import plain
from inventory.materials.models import Item
from inventory.measures.lengths import (
    MICROMETRES_PER_INCH,
    Units,
    spell_inches,
    spell_length,
)
from inventory.needs.answer import counted_as
from workshops.club.models import Club
from workshops.common.pdf import Pdf, pdf_of_sheets
from workshops.paper.printing import dated, page_of
from workshops.stock.order_page import price_of, total_of

SIXTY_FOURTHS = 64
TWO_FEET = 24  # inches; below, nobody says feet


@dataclass(frozen=True, slots=True)
class Printed:
    """One line as the supplier reads it."""

    number: int
    name: str
    size: str
    quantity: str
    packs: str
    unit_price: Decimal | None
    price: Decimal | None


def print_order(order: Order, at: datetime) -> Pdf:
    """The order as one PDF, as many pages as its lines take."""
    shop, lines = order.shop, list(order.lines.select_related("item"))
    total, unpriced = total_of(lines)
    context: dict[str, Any] = dated(shop, at) | {
        "order": order,
        "club": Club.objects.filter(shop=shop).first(),
        "lines": printed(lines, shop.length_units),
        "total": total,
        "unpriced": unpriced,
        "written_on": order.made_at.astimezone(shop.zone).date(),
    }
    styles = render_to_string("paper/_sheet.css", page_of(shop))
    styles += render_to_string("paper/_order.css")
    return pdf_of_sheets([[render_to_string("paper/order.html", context)]], css=styles)


def printed(lines: Sequence[OrderLine], units: Units) -> list[Printed]:
    """The lines, numbered from one."""
    return [_printed(n, line, units) for n, line in enumerate(lines, start=1)]


def _printed(number: int, line: OrderLine, units: Units) -> Printed:
    item = line.item
    return Printed(
        number=number,
        name=item.name,
        size=size_of(item, line.length_um, units),
        quantity=f"{plain(line.quantity)} {counted_as(item, line.quantity)}",
        packs=packs_of(item, line.quantity),
        unit_price=line.unit_price,
        price=price_of(line),
    )


def size_of(item: Item, length_um: int, units: Units) -> str:
    """The section and length of metal, spelled; empty for what has neither."""
    parts = [item.get_shape_display() if item.shape else ""]
    if item.outside_um:
        parts.append(f"{fine(item.outside_um, units)} outside")
    if item.wall_um:
        parts.append(f"{fine(item.wall_um, units)} wall")
    if item.wire_um:
        parts.append(f"wire {fine(item.wire_um, units)}")
    parts.append(f"mesh {item.mesh}" if item.mesh else "")
    parts.append(f"{as_sold(length_um, units)} long" if length_um else "")
    return ", ".join(part for part in parts if part)


def fine(um: int, units: Units) -> str:
    """A section's size, never rounded to what the shop measures posts by: ``0.065 in``.

    A wall of 0.065 in is not one of 1/16 in: the next size of tube would not slide.
    """
    if units is Units.MILLIMETRE:
        return f"{plain((Decimal(um) / 1000).quantize(Decimal('0.01')))} mm"
    parts = (2 * um * SIXTY_FOURTHS + MICROMETRES_PER_INCH) // (2 * MICROMETRES_PER_INCH)
    # Within the micrometre to which a size is kept: 1/16 in is 1587.5 of them.
    if abs(parts * MICROMETRES_PER_INCH - um * SIXTY_FOURTHS) <= SIXTY_FOURTHS:
        return f"{spell_inches(um, SIXTY_FOURTHS)} in"
    return f"{(Decimal(um) / MICROMETRES_PER_INCH).quantize(Decimal('0.001'))} in"


def as_sold(um: int, units: Units) -> str:
    """A length as suppliers list it: feet and inches where it comes out whole, ``20 ft``."""
    whole, rest = divmod(um, MICROMETRES_PER_INCH)
    if units is Units.MILLIMETRE or rest or whole < TWO_FEET:
        return spell_length(um, units)
    feet, inches = divmod(whole, 12)
    return f"{feet} ft {inches} in" if inches else f"{feet} ft"


def packs_of(item: Item, quantity: Decimal) -> str:
    """Whole packs in words; empty where the item is sold singly or the packs do not come out."""
    if item.pack_size <= 1 or quantity % item.pack_size:
        return ""
    packs = quantity / item.pack_size
    return f"{plain(packs)} pack{'' if packs == 1 else 's'} of {item.pack_size}"
