"""What every template may use: lengths, counts, states, drawings, the rooms."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any
from uuid import uuid4

from django import template
from django.template.context import RequestContext
from django.utils.formats import number_format
from django.utils.html import format_html
from django.utils.safestring import SafeString, mark_safe

from inventory.measures.lengths import spell_length
from inventory.places.models import Shop
from workshops.common.icons import icon_svg
from workshops.common.night_pages import steps
from workshops.common.pictograms import spoken_wear, station_mark, wear_pictogram
from workshops.common.rooms import corners, doors
from workshops.common.words import stopped

register = template.Library()
register.filter("stopped", stopped)

# Word, shape and colour of a state: told apart in black and white, and by ear.
STATES = {
    "open": ("open", "●"),
    "short": ("short", "◐"),
    "closed": ("closed", "✕"),
}


@register.filter
def length_in(micrometres: int | None, shop: Shop) -> str:
    """A length in the shop's own units; a dash for none: ``{{ um|length_in:shop }}``."""
    return "–" if micrometres is None else spell_length(int(micrometres), shop.length_units)


@register.filter
def count(quantity: Decimal | int | None) -> str:
    """A number without trailing zeros, thousands apart; a dash for none."""
    if quantity is None:
        return "–"
    # normalize() writes 100 as 1E+2; the format code f writes it out again.
    plain = Decimal(quantity).normalize()
    return number_format(f"{plain:f}", use_l10n=True, force_grouping=True)


@register.filter
def night_day(key: str) -> str:
    """The day that a night is kept under, as people write it: ``{{ run.night_key|night_day }}``."""
    try:
        day = date.fromisoformat(key)
    except ValueError:
        return key  # the book keeps whatever a night was called
    return f"{day.day} {day:%B %Y}"


@register.inclusion_tag("common/_state.html")
def state(name: str, word: str = "") -> dict[str, Any]:
    """The badge of a station or an item: ``{% state "short" %}``, ``{% state "open" "here" %}``.

    The second word replaces the usual one; shape and colour stay those of the state.
    """
    usual, shape = STATES[name]
    return {"name": name, "shape": shape, "word": word or usual}


@register.simple_tag
def fresh_key() -> str:
    """Return the key of one press, so that the same press sent twice counts once."""
    return str(uuid4())


@register.simple_tag
def icon(name: str, label: str = "") -> SafeString:
    """A drawing of ``common/icons.py`` inline: ``{% icon "print" %}``."""
    return mark_safe(icon_svg(name, label))


@register.simple_tag
def mark(kind: str, label: str = "") -> SafeString:
    """The mark of a kind of station, beside its name: ``{% mark station.kind %}``."""
    return mark_safe(station_mark(kind, label))


@register.simple_tag
def wear(word: str, forbidden: bool = False) -> SafeString:
    """What to wear, or never to wear, as picture and word: ``{% wear "gloves" True %}``."""
    picture = mark_safe(wear_pictogram(word, forbidden=forbidden))
    said = spoken_wear(word, forbidden=forbidden)
    return format_html('<span class="wb-wear">{}<span>{}</span></span>', picture, said)


@register.inclusion_tag("common/_rooms.html", takes_context=True)
def rooms(context: RequestContext) -> dict[str, Any]:
    """The navigation of the shop of this page; nothing on pages of no shop."""
    shop, request = context.get("shop"), context.get("request")
    match = getattr(request, "resolver_match", None)
    if shop is None or request is None or match is None:
        return {"doors": []}
    here = match.namespace
    return {
        "doors": doors(shop.slug, context["may"], here),
        "corners": corners(shop.slug, context["may"], here, request.path),
    }


@register.inclusion_tag("common/_night_strip.html", takes_context=True)
def night_strip(context: RequestContext, day: date | None = None) -> dict[str, Any]:
    """The pages of one night: that of ``day``, else the one whose day is in the address.

    Nothing on pages of no night. A page whose address names no day says which it is of:
    ``{% block strip %}{% night_strip night.date %}{% endblock %}``.
    """
    shop, request = context.get("shop"), context.get("request")
    match = getattr(request, "resolver_match", None)
    if shop is None or request is None or match is None:
        return {"steps": []}
    if day is None and request.path.startswith(f"/{shop.slug}/nights/"):
        day = match.kwargs.get("on")
    return {"steps": steps(shop.slug, day, context["may"], request.path) if day else []}
