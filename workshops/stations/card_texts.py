"""What a station's card says until the club writes its own: steps, key points, reasons.

The texts name no sizes: those are on the drawing, at the revision in force. They are
defaults that operations copy when they are made; nothing reads them on the night.
"""

from __future__ import annotations

from workshops.stations.card_words import people, steel, straw
from workshops.stations.card_words.card import CardText

CARD_TEXTS: dict[str, CardText] = {
    "cut": steel.CUT,
    "drill": steel.DRILL,
    "bend": steel.BEND,
    "weld": steel.WELD,
    "spot_weld": steel.SPOT_WELD,
    "grind": steel.GRIND,
    "bolt": steel.BOLT,
    "fire_watch": steel.FIRE_WATCH,
    "roll": straw.ROLL,
    "ring": straw.RING,
    "fill": straw.FILL,
    "tag": people.TAG,
    "runner": people.RUNNER,
    "greeter": people.GREETER,
    "kitchen": people.KITCHEN,
}


def text_for(kind: str) -> CardText | None:
    """The default words for a station of that kind; ``None`` where there are none."""
    return CARD_TEXTS.get(kind)
