"""What the columns of a list mean: a declaration of columns turns rows of text into values.

A column says under which headings it may stand, how its cells are read and whether it must
be there. The outcome is a row of values, or sentences saying what is wrong with the row.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time
from decimal import Decimal
from typing import Any
from zoneinfo import ZoneInfo

from inventory.measures.lengths import Units, read_length
from workshops.common.sheets import Row, SheetRefused

Reader = Callable[[str], Any]

_DECIMAL = re.compile(r"-?\d+([.,]\d+)?")
_THOUSANDS = re.compile(r"-?\d{1,3}((,\d{3})+\.\d+|(,\d{3}){2,})")
_TWO_WAYS = re.compile(r"-?\d{1,3},\d{3}")
_DAY = re.compile(r"(\d{1,2})[./-](\d{1,2})[./-](\d{4})\.?")
_CLOCK = re.compile(r"(\d{1,2}):(\d{2})(?::\d{2})?")
NOON = time(12)
MOST = Decimal(10) ** 9


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a list; cells are read without the blanks around them."""

    name: str
    heading: str
    read: Reader
    also: tuple[str, ...] = ()  # other headings that people write
    is_required: bool = False
    help: str = ""
    example: str = ""


@dataclass(frozen=True, slots=True)
class TypedRow:
    """A row as values by column name; an empty cell is ``None``, a missing column no key."""

    number: int
    values: Mapping[str, Any]
    texts: Mapping[str, str]
    faults: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Reading:
    """The rows of a list, and the headings that nobody asked for."""

    rows: tuple[TypedRow, ...]
    unknown: tuple[str, ...]


def read_rows(rows: Sequence[Row], columns: Sequence[Column]) -> Reading:
    """The rows under their heading row, each cell read by its column.

    Raises
    ------
    SheetRefused
        When there is no row under the heading, a column that must be there is missing, or
        a heading stands there twice.
    """
    if not rows:
        raise SheetRefused("The file is empty. Choose the file with your list.")
    spots, unknown = _spots(rows[0], columns)
    if len(rows) < 2:
        raise SheetRefused("The file has a heading row and nothing under it.")
    return Reading(tuple(_typed(row, spots) for row in rows[1:]), unknown)


def _spots(heading: Row, columns: Sequence[Column]) -> tuple[dict[int, Column], tuple[str, ...]]:
    """Which column stands where, by the words of the heading row."""
    known = {_word(word): column for column in columns for word in (column.heading, *column.also)}
    spots: dict[int, Column] = {}
    for place, text in enumerate(heading.cells):
        column = known.get(_word(text))
        if column and column in spots.values():
            raise SheetRefused(f"“{text}” stands twice in the heading row. Leave one of them out.")
        if column:
            spots[place] = column
    missing = [c.heading for c in columns if c.is_required and c not in spots.values()]
    if missing:
        raise SheetRefused(
            f"Row {heading.number} must be the heading row, and misses: {', '.join(missing)}. "
            "The template shows every heading."
        )
    others = enumerate(heading.cells)
    return spots, tuple(text for place, text in others if place not in spots and text.strip())


def _word(text: str) -> str:
    """A heading as it is compared: small letters, one blank between words, no marks."""
    return " ".join(re.sub(r"[^\w]+|_", " ", text.casefold()).split())


def _typed(row: Row, spots: Mapping[int, Column]) -> TypedRow:
    values: dict[str, Any] = {}
    texts: dict[str, str] = {}
    faults: list[str] = []
    for place, column in spots.items():
        text = row.cells[place].strip() if place < len(row.cells) else ""
        values[column.name], texts[column.name] = None, text
        if not text:
            if column.is_required:
                faults.append(f"{column.heading}: fill it in.")
            continue
        try:
            values[column.name] = column.read(text)
        except ValueError as refused:
            faults.append(f"{column.heading}: {refused}")
    return TypedRow(row.number, values, texts, tuple(faults))


# ---- readers -------------------------------------------------------------------------


def words(most: int) -> Reader:
    """A text on one line, of at most so many letters."""

    def read(text: str) -> str:
        line = " ".join(text.split())
        if len(line) > most:
            raise ValueError(f"{len(line)} letters are too many; {most} fit.")
        return line

    return read


def amount(text: str) -> Decimal:
    """A number, exact to the thousandth: ``12``, ``0.25``, ``0,25``, ``-3``."""
    # "1,200" may mean twelve hundred or one and a fifth, and a guess would cost a winter.
    if _TWO_WAYS.fullmatch(text):
        ways = f"{text.replace(',', '')} or {text.replace(',', '.')}"
        raise ValueError(f"“{text}” can be read in two ways. Write {ways}.")
    return _number(text, Decimal("0.001"))


def money(text: str) -> Decimal:
    """A sum of money: not below nothing, whole cents."""
    sum_ = _number(text, Decimal("0.01"))
    if sum_ < 0:
        raise ValueError("a worth cannot be less than nothing.")
    return sum_


def _number(text: str, finest: Decimal) -> Decimal:
    # A typographic minus comes from other programs' pretty numbers.
    plain = text.replace("−", "-").replace("\u00a0", "").replace(" ", "")
    if _THOUSANDS.fullmatch(plain):
        plain = plain.replace(",", "")
    if not _DECIMAL.fullmatch(plain):
        raise ValueError(f"“{text}” is not a number. Write it like 12 or 0.25.")
    number = Decimal(plain.replace(",", "."))
    if number % finest:
        raise ValueError(f"“{text}” is finer than {finest} and cannot be kept.")
    if abs(number) >= MOST:
        raise ValueError(f"“{text}” is too large.")
    return number


def whole(text: str) -> int:
    """A whole number, not below nothing."""
    number = _number(text, Decimal("0.001"))
    if number % 1 or number < 0:
        raise ValueError(f"“{text}” must be a whole number.")
    return int(number)


def length(units: Units) -> Reader:
    """A length in micrometres; a bare number is in the shop's units."""
    return lambda text: read_length(text, units)


def yes_no(text: str) -> bool:
    """``yes`` or ``no``."""
    known = {"yes": True, "y": True, "x": True, "true": True, "no": False, "n": False}
    known |= {"-": False, "false": False}
    if text.casefold() not in known:
        raise ValueError(f"“{text}”: write yes or no.")
    return known[text.casefold()]


def choice(known: Mapping[str, Collection[str]]) -> Reader:
    """One of some values, by any of its words; the value is one of them."""
    by_word = {_word(word): value for value, said in known.items() for word in (value, *said)}

    def read(text: str) -> str:
        if _word(text) not in by_word:
            usual = ", ".join(next(iter(said)) for said in known.values())
            raise ValueError(f"“{text}” is none of: {usual}.")
        return by_word[_word(text)]

    return read


def day(*, month_first: bool) -> Reader:
    """A day: ``2026-01-14``, or as the shop writes it, ``1/14/2026`` or ``14.1.2026``."""
    usual = "1/14/2026" if month_first else "14.1.2026"

    def read(text: str) -> date:
        try:
            return date.fromisoformat(text)
        except ValueError:
            found = _DAY.fullmatch(text)
        first, second, year = map(int, found.groups()) if found else (0, 0, 0)
        month, in_month = (first, second) if month_first else (second, first)
        try:
            return date(year, month, in_month)
        except ValueError:
            raise ValueError(f"“{text}” is not a day. Write 2026-01-14 or {usual}.") from None

    return read


def moment(zone: ZoneInfo, *, month_first: bool) -> Reader:
    """A day with or without its time on the shop's clock; noon where no time is told."""
    read_day = day(month_first=month_first)

    def read(text: str) -> datetime:
        try:
            told = datetime.fromisoformat(text)
        except ValueError:
            told = None
        # A time with its own zone is the one spelling that a change of clocks leaves alone.
        if told and told.tzinfo:
            return told
        on, _, clock = text.replace("T", " ").partition(" ")
        found = _CLOCK.fullmatch(clock.strip()) if clock else None
        if clock and not found:
            raise ValueError(f"“{clock}” is not a time. Write it like 18:30.")
        on_clock = (int(found[1]), int(found[2])) if found else (NOON.hour, 0)
        if on_clock > (23, 59) or on_clock[1] > 59:
            raise ValueError(f"“{clock}” is not a time. Write it like 18:30.")
        return datetime.combine(read_day(on), time(*on_clock), tzinfo=zone)

    return read
