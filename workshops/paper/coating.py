"""The line on a weld card when coated metal lies among what its parts are cut from."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from inventory.deliveries.models import Received
from inventory.deliveries.queries import Coated
from workshops.stations.guidance.zinc import zinc_words
from workshops.stations.models import BuildSheet, Station
from workshops.stations.welded import welded_stocks

ARCS = frozenset({Station.Kind.WELD, Station.Kind.SPOT_WELD})
ZINC_SOURCE = "29 CFR 1910.1000 table Z-1"
NO_SOURCE = "common practice, no source"
PAINT_WORDS = (
    "Old paint may hold lead, and all paint smokes: take other stock, or strip it well back from"
    " the weld, never by burning."
)


def coating_cautions(
    station: Station, sheets: Iterable[BuildSheet], coated: Collection[Coated]
) -> list[dict[str, str]]:
    """Cautions for coated metal that parts welded here are cut from; none for bare stock.

    ``sheets`` with their parts prefetched: no query.
    """
    if station.kind not in ARCS or not coated:
        return []
    welded = {item for sheet in sheets for item in welded_stocks(sheet)}
    found = [metal for metal in coated if metal.item.pk in welded]
    words = {
        Received.Finish.GALVANISED: (zinc_words(), ZINC_SOURCE),
        Received.Finish.PAINTED: (PAINT_WORDS, NO_SOURCE),
    }
    return [
        {"text": f"{finish.label.upper()} STOCK IS HERE: {names}. {text}", "source": source}
        for finish, (text, source) in words.items()
        if (names := _named(found, finish))
    ]


def _named(found: Iterable[Coated], finish: str) -> str:
    return ", ".join(
        str(metal.item) for metal in found if any(row.finish == finish for row in metal.came)
    )
