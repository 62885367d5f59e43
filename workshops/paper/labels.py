"""What stands on the labels of places, items and drops, and where its mark leads."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from urllib.parse import urljoin

from django.urls import reverse

from inventory.ledger.models import Balance
from inventory.materials.models import Item
from inventory.materials.queries import items_of
from inventory.measures.lengths import spell_length
from inventory.places.models import Place, Shop
from inventory.places.queries import places_of
from workshops.common.pictograms import item_mark
from workshops.paper.refusals import PaperRefused

PLACE, PLACES, ITEMS, SOME, DROPS = "place", "places", "items", "some", "drops"
CHOICES: dict[str, str] = {
    PLACE: "one place and everything that is kept there",
    PLACES: "every place",
    ITEMS: "every item",
    SOME: "the items ticked below",
    DROPS: "every drop on the racks",
}
MOST = 400  # labels at once: forty sheets, which is a morning with the scissors


@dataclass(frozen=True, slots=True)
class Label:
    """One label: its name, the lines below, its picture, and the page its mark leads to."""

    title: str
    lines: tuple[str, ...]
    mark: str
    address: str


def labels_for(
    shop: Shop, what: str, *, site: str, place: int | None = None, items: Sequence[int] = ()
) -> list[Label]:
    """The labels that were asked for; ``site`` begins every address. At most 3 queries.

    Raises
    ------
    PaperRefused
        When there is nothing to label, or too much at once.
    """
    found = list(_labels(shop, what, site, place, items))
    if not found:
        raise PaperRefused("Nothing was chosen that could have a label. Choose something else.")
    if len(found) > MOST:
        raise PaperRefused(f"{len(found)} labels are too many at once. Choose at most {MOST}.")
    return found


def _labels(
    shop: Shop, what: str, site: str, place: int | None, items: Sequence[int]
) -> Iterable[Label]:
    places = places_of(shop).select_related("room", "shop")
    if what == PLACES:
        yield from (of_place(each, site) for each in places)
    elif what == PLACE:
        shown = places.filter(pk=place or 0)
        yield from (of_place(each, site) for each in shown)
        yield from (of_item(each, site) for each in items_of(shop).filter(home__in=shown))
    elif what == DROPS:
        yield from _of_drops(shop, site)
    else:
        chosen = items_of(shop)
        chosen = chosen.filter(pk__in=items) if what == SOME else chosen
        yield from (of_item(each, site) for each in chosen)


def of_place(place: Place, site: str) -> Label:
    """The label of a rack, a shelf or a bin."""
    lines = (place.room.name,) if place.room else ()
    note = (place.note,) if place.note else ()
    page = reverse("stock:place", args=[place.shop.slug, place.pk])
    return Label(place.name, (*lines, *note), "", urljoin(site, page))


def of_item(item: Item, site: str) -> Label:
    """The label of where an item is kept."""
    lines = [f"kept at {item.home.name}"] if item.home else []
    lines.append("pieces by length" if item.is_by_length else f"counted in: {item.unit}")
    if item.bought_length_um:
        lines.append(f"bought {spell_length(item.bought_length_um, item.shop.length_units)} long")
    page = reverse("stock:item", args=[item.shop.slug, item.slug])
    return Label(str(item), tuple(lines), item_mark(item.kind), urljoin(site, page))


def _of_drops(shop: Shop, site: str) -> Iterable[Label]:
    """A label for each piece that is shorter than it was bought, longest first."""
    rows = Balance.objects.filter(item__shop=shop, item__kind=Item.Kind.METAL, quantity__gt=0)
    rows = rows.select_related("item", "item__home", "item__shop", "place")
    for row in rows.order_by("item__name", "-length_um", "place__name"):
        if not row.item.bought_length_um or row.length_um < row.item.bought_length_um:
            made = of_item(row.item, site)
            # Number, fraction and unit on one line, whatever the label's width.
            length = spell_length(row.length_um, shop.length_units).replace(" ", "\u00a0")
            label = Label(length, (str(row.item), f"at {row.place.name}"), made.mark, made.address)
            yield from [label] * int(row.quantity)
