"""Our own pictograms: a mark for each station and kind of item, wear and forbidden wear.

Lines of the text's colour, which print in black and white. What is forbidden is ringed and
crossed out, and never told by colour. A picture stands beside its word, or says it.
"""

from __future__ import annotations

from xml.sax.saxutils import escape

from workshops.common.pictograms.items import ITEMS
from workshops.common.pictograms.stations import STATIONS
from workshops.common.pictograms.wear import SPOKEN, WEAR

_CROSSED = (
    '<g transform="translate(5.8 5.8) scale(.76)">{}</g>'
    '<path d="M9 39L39 9" stroke="#fff" stroke-width="6"/>'
    '<circle cx="24" cy="24" r="21.500"/><path d="M9 39L39 9"/>'
)


def station_mark(kind: str, label: str = "") -> str:
    """The mark of a station of that kind; a plain one for a kind not known here."""
    return _picture(STATIONS.get(kind, STATIONS["other"]), label)


def item_mark(kind: str, label: str = "") -> str:
    """The mark of a kind of item; empty for a kind that has none."""
    return _picture(ITEMS[kind], label) if kind in ITEMS else ""


def wear_pictogram(word: str, label: str = "", *, forbidden: bool = False) -> str:
    """The picture of something to wear, crossed out when it is forbidden.

    A word that a club has added gets a plain picture; its word stands beside it anyway.
    """
    inside = WEAR.get(word, WEAR["other"])
    return _picture(_CROSSED.format(inside) if forbidden else inside, label)


def spoken_wear(word: str, *, forbidden: bool = False) -> str:
    """The word as people say it: ``safety glasses``, ``no gloves``."""
    said = SPOKEN.get(word, word)
    return f"no {said}" if forbidden else said


def _picture(inside: str, label: str) -> str:
    """Inline SVG; hidden from screen readers unless it has a label."""
    said = f"<title>{escape(label)}</title>" if label else ""
    role = 'role="img"' if label else 'aria-hidden="true"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="wb-mark" viewBox="0 0 48 48" width="48"'
        f' height="48" {role} fill="none" stroke="currentColor" stroke-width="3"'
        f' stroke-linecap="round" stroke-linejoin="round">{said}{inside}</svg>'
    )
