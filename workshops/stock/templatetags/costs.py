"""Money and shares as the page of what a set costs writes them."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

from django import template

from inventory.measures.lengths import MICROMETRES_PER_FOOT
from inventory.needs.costing import Share
from inventory.needs.prices import MILLION
from inventory.places.models import Shop

register = template.Library()

CENT = Decimal("0.01")
METRES_IN_A_FOOT = Decimal(MICROMETRES_PER_FOOT) / MILLION


@register.filter
def money(value: Decimal | None) -> str:
    """To the cent; a dash for nothing, words where nobody wrote a price."""
    if value is None:
        return "no price"
    return str(value.quantize(CENT, ROUND_HALF_UP)) if value else "–"


@register.filter
def percent(share: Decimal) -> str:
    """A share as a percentage with one place."""
    return f"{(share * 100).quantize(Decimal('0.1'), ROUND_HALF_UP)} %"


@register.filter
def short_count(value: Decimal) -> str:
    """A number with at most two places and no trailing nought."""
    shown = value.quantize(CENT, ROUND_HALF_UP).normalize()
    return f"{shown:f}"


@register.filter
def in_a_set(share: Share, shop: Shop) -> str:
    """How much of it is in one set: feet or metres of metal, else the item's unit."""
    if share.pieces:
        one, unit = _long(shop)
        return f"{(share.quantity / one).quantize(CENT, ROUND_HALF_UP)} {unit}"
    unit = "" if share.item.unit == "each" else f" {share.item.unit}"
    return f"{short_count(share.quantity)}{unit}"


@register.filter
def for_one(share: Share, shop: Shop) -> str:
    """What one foot, metre or unit costs, with four places: a ring costs less than a cent."""
    price = share.price.bought if share.price.bought is not None else share.price.given
    if price is None:
        return "no price"
    one, unit = _long(shop) if share.pieces else (Decimal(1), "")
    shown = (price * one).quantize(Decimal("0.0001"), ROUND_HALF_UP)
    # Two places where they say it all.
    shown = shown.quantize(CENT) if shown == shown.quantize(CENT) else shown
    return f"{shown} a {unit}" if unit else str(shown)


def _long(shop: Shop) -> tuple[Decimal, str]:
    """Metres in the length that the shop reckons metal by, and what it is called."""
    if shop.units == Shop.UnitChoice.MILLIMETRE:
        return Decimal(1), "m"
    return METRES_IN_A_FOOT, "ft"
