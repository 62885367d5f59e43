"""The back of a station card: what the front says, in a second language.

The drawing and the boxes to tally in stay on the front. Crew, times, figures, sources and
drawing number are the front's own.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Any

from django.template.loader import render_to_string
from django.utils.translation import override

from inventory.places.models import Shop
from workshops.nights.models import Placing
from workshops.paper.cards import USUAL, Card, Wear
from workshops.paper.crew import CrewLine
from workshops.paper.layout import FORMATS, SIZES, Size
from workshops.paper.second_language import Language, language
from workshops.stations.cautions import DEFER

ANYBODY = "If something looks wrong, stop the work: anybody may."
ON_THE_FRONT = "The drawing and the boxes to tally in are on the front."
HEADINGS = {
    "crew_heading": "Crew and sign-off", "wear": "Wear", "never": "Never here",
    "nothing": "Nothing special.", "check": "Check", "care": "Take care", "step": "step",
    "how": "how", "why": "why", "tonight": "tonight", "drawing": "drawing", "usual": USUAL,
    "printed": "printed", "continued": "continued", "anybody": ANYBODY, "defer": DEFER,
    "front": ON_THE_FRONT,
}  # fmt: skip
_ROLES = re.compile("|".join(sorted(Placing.Role.labels, key=len, reverse=True)))
# Room that one letter takes, in squares of its size; generous, as the first guess only.
LETTER_EMS = 0.62
HEAD_MM = 60.0
IN_A_ROW = 3


def backs(card: Card, code: str, context: dict[str, Any], pictures: Any) -> Iterator[str]:
    """Ways to lay the back out, from the roomiest that should hold to the tightest."""
    said = told(card, language(code))
    paper = FORMATS[Shop.PaperSize(context["shop"].paper_size)]
    room = paper.width_mm * (paper.height_mm - HEAD_MM)
    first = next((at for at, size in enumerate(SIZES) if _area(said, size) <= room), -1)
    for size in SIZES[first:]:
        shown = {"card": card, "said": said, "size": size, "code": code} | pictures(said, size)
        with override(code):
            yield render_to_string("paper/back.html", context | shown)


def told(card: Card, to: Language) -> dict[str, Any]:
    """The words of a card in that language."""
    pages = to.sections["headings"]["page {n} of {m}"]
    return {name: to.of(text) for name, text in HEADINGS.items()} | {
        "page": pages,
        "kind": to.of(card.station.get_kind_display()),
        "needs": to.of(card.needs),
        "trouble": to.of(f"DO NOT OPEN YET: {card.trouble}") if card.trouble else "",
        "sparks": to.of_club(card.sparks),
        "crew": [(line.name, _crew(line, to)) for line in card.crew],
        "worn": [Wear(to.of(each.word), each.picture) for each in card.wear],
        "unworn": [Wear(to.of(each.word), each.picture) for each in card.never],
        "steps": [{key: to.of_club(text) for key, text in row.items()} for row in card.steps],
        "checks": [to.of(text) for text in card.checks],
        "sourced": [(to.of(row["text"]), _source(row["source"], to)) for row in card.sourced],
        "practice": [to.of(text) for text in card.practice],
        "work": to.of(card.lead.operation.name) if card.lead else "",
        "status": to.of(card.sheet.get_status_display()) if card.sheet else "",
    }


def _crew(line: CrewLine, to: Language) -> str:
    """Times, roles and sign-off of somebody."""
    roles = f" {to.of('and')} ".join(to.of(role) for role in _ROLES.findall(line.role))
    return f"{line.when} · {roles} · {to.of(line.signed)}"


def _source(source: str, to: Language) -> str:
    """A clause is called what it is called; only what is said of it is translated."""
    return to.known(source) or source


def _area(said: dict[str, Any], size: Size) -> float:
    """About the room that all words take at that size, square millimetres."""
    words = [*said["checks"], *said["practice"], said["sparks"], said["trouble"], said["defer"]]
    words += [" ".join(pair) for pair in (*said["sourced"], *said["crew"])]
    body = sum(map(len, words)) + 40 * len(words)
    steps = sum(len(text) + 12 for row in said["steps"] for text in row.values())
    worn: Sequence[Wear] = [*said["worn"], *said["unworn"]]
    squares = (body * size.body**2 + steps * size.steps**2) * LETTER_EMS * (25.4 / 72) ** 2
    return squares + len(worn) * 62 * (size.icon_mm + 2)
