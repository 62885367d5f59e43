"""The columns of a list of people, and how their cells are read."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from inventory.places.models import Shop
from workshops.common.columns import Column, Reader, day, whole, words, yes_no
from workshops.stations.models import Level, Station

LIMITS = {"no_dust": "no dust", "seated_only": "seated", "no_heavy": "no heavy lifting"}
_LIMIT_WORDS = {
    "no dust": "no_dust", "no straw": "no_dust", "no hay": "no_dust", "seated": "seated_only",
    "seated only": "seated_only", "no heavy": "no_heavy", "no heavy lifting": "no_heavy",
}  # fmt: skip
LEVELS = {str(label): Level(value) for value, label in Level.choices}
# Of whoever may not see them, these columns stay out.
PRIVATE = ("email", "phone", "born_on", "is_adult_declared", "emergency_contact", "limits", "note")
STATION = "station "


@dataclass(frozen=True, slots=True)
class PaperSignOff:
    """What a cell says of a sign-off: how far, and from when or until when."""

    level: Level
    on: date | None
    until: date | None


def columns(shop: Shop, stations: Iterable[Station], *, is_private: bool = True) -> list[Column]:
    """What is kept of a person, the waiver, and one column a station."""
    read_day = day(month_first=shop.paper_size == Shop.PaperSize.LETTER)
    usual = [
        Column("number", "Number", whole, ("no",), help="of somebody on the list; else empty"),
        Column("first_name", "First name", words(60), ("first",), True, example="Ada"),
        Column("last_name", "Last name", words(60), ("last", "surname"), example="Marsh"),
        Column("email", "E-mail", words(254), ("email",), example="ada@example.org"),
        Column("phone", "Phone", words(40), ("telephone",), example="555-0134"),
        Column("born_on", "Born on", read_day, ("date of birth", "birthday"),
               help="needed for anyone under age"),
        Column("is_adult_declared", "Of age", yes_no, help="yes, when no date of birth is kept",
               example="yes"),
        Column("emergency_contact", "Emergency contact", words(120), ("whom to call",)),
        Column("limits", "Limits", limits, help="no dust; seated; no heavy lifting; none"),
        Column("joined_on", "Joined on", read_day, ("joined", "member since")),
        Column("note", "Note", words(300), ("remark",)),
        Column("waiver", "Waiver version", words(20), ("waiver",)),
        Column("waiver_on", "Waiver signed on", read_day),
        Column("waiver_until", "Waiver until", read_day, ("waiver valid until",)),
    ]  # fmt: skip
    shown = [each for each in usual if is_private or each.name not in PRIVATE]
    read = paper_sign_off(read_day)
    return shown + [Column(f"{STATION}{row.pk}", row.name, read) for row in stations]


def limits(text: str) -> tuple[str, ...]:
    """The limits named in a cell; ``none`` for nothing."""
    if text.casefold() in ("none", "no", "-"):
        return ()
    named = [" ".join(each.casefold().split()) for each in re.split("[;,]", text) if each.strip()]
    unknown = [each for each in named if each not in _LIMIT_WORDS]
    if unknown:
        raise ValueError(f"“{unknown[0]}” is none of: {'; '.join(LIMITS.values())}; none.")
    return tuple(sorted({_LIMIT_WORDS[each] for each in named}))


def paper_sign_off(read_day: Reader) -> Reader:
    """A level in words with its days: ``alone 2025-11-05 until 2026-10-31``."""

    def read(text: str) -> PaperSignOff:
        told = " ".join(text.casefold().replace(",", " ").split())
        said = next((each for each in LEVELS if re.match(rf"{each}( |$)", told)), None)
        if said is None:
            raise ValueError(f"“{text}”: begin with one of: {', '.join(LEVELS)}.")
        rest = re.sub(r"^(signed )?(on |since )?", "", told[len(said) :].strip())
        on, _, until = f" {rest} ".partition(" until ")
        days = [read_day(each.strip()) if each.strip() else None for each in (on, until)]
        if not any(days):
            raise ValueError(f"write when it was signed or until when: {said} until 2026-10-31.")
        return PaperSignOff(LEVELS[said], *days)

    return read


def spelled(level: Level | int, on: date, until: date | None) -> str:
    """A sign-off as a list writes it, so that it is read back as the same."""
    return f"{Level(level).label} {on}" + (f" until {until}" if until else "")
