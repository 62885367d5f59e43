"""What the marks on eyewear say, and whether they fit the work.

Source: ANSI/ISEA Z87.1, 2010 and later, as quoted by makers of eyewear.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

_MARK = re.compile(r"Z87(-2)?(\+)?", re.IGNORECASE)
_WELD = re.compile(r"\bW\s?(\d{1,2}(?:\.\d)?)\b", re.IGNORECASE)
_AGAINST = {"D3": "splash", "D4": "dust", "D5": "fine dust"}


@dataclass(frozen=True, slots=True)
class Eyewear:
    """A pair of glasses or a helmet, by its marks."""

    is_marked: bool
    is_impact_rated: bool
    weld_shade: float | None
    against: frozenset[str]


def read_marks(text: str) -> Eyewear:
    """The meaning of marks as they stand on lens or frame: ``Z87+ W10 D4``."""
    mark, weld = _MARK.search(text), _WELD.search(text)
    shade = float(weld.group(1)) if weld else None
    return Eyewear(
        is_marked=mark is not None,
        is_impact_rated=bool(mark and mark.group(2)),
        weld_shade=shade if shade is not None and 1.3 <= shade <= 14 else None,
        against=frozenset(word for code, word in _AGAINST.items() if code in text.upper()),
    )


def what_is_missing(worn: Eyewear, *, flying: bool = False, shade: int = 0) -> tuple[str, ...]:
    """What keeps this eyewear from the work; empty when no mark is missing.

    ``flying`` for work that throws chips or wire ends; ``shade`` the least for an arc.
    """
    missing = []
    if not worn.is_marked:
        missing.append("no Z87 mark: it is not made to the standard")
    elif flying and not worn.is_impact_rated:
        missing.append("no + after Z87: it is not rated for flying pieces")
    if shade and (worn.weld_shade is None or worn.weld_shade < shade):
        missing.append(f"no W{shade} or darker: it does not filter this arc")
    return tuple(missing)
