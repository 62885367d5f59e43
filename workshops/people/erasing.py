"""What an erase is, and where slices above say what must come first and what goes with it.

A slice registers from its ``tasks.py``: ``first_ask`` for what stands in the way of erasing
somebody, ``also_erase`` for rows that say more of a person than plain words, which the sweep
finds by itself. What becomes of rows that point to a person stands in ``remains``.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from functools import cached_property
from typing import Any

from inventory.places.models import Shop
from workshops.people.models import Person


def erased_name(number: int) -> str:
    """What an erased entry is called on every page, for good."""
    return f"Erased person {number}"


@dataclass(frozen=True)
class Erasing:
    """One erase under way.

    Parameters
    ----------
    people
        The entry as it was, then those that were joined with it before.
    words
        Names, addresses and numbers that mean this person and nobody else of the shop.
    """

    shop: Shop
    people: tuple[Person, ...]
    words: tuple[str, ...]
    at: datetime

    @property
    def name(self) -> str:
        """What stands in place of the person's names."""
        return erased_name(self.people[0].pk)

    @property
    def numbers(self) -> tuple[int, ...]:
        """The numbers of the entries."""
        return tuple(person.pk for person in self.people)

    @property
    def emails(self) -> tuple[str, ...]:
        """The addresses of the entries, without repetition."""
        return tuple(dict.fromkeys(person.email for person in self.people if person.email))

    @property
    def today(self) -> date:
        """The day in the shop."""
        return self.at.astimezone(self.shop.zone).date()

    @cached_property
    def _pattern(self) -> re.Pattern[str]:
        # The longest first, or "Ada Marsh" would be cut out of "Ada Marsh (no. 4)".
        longest = sorted(self.words, key=len, reverse=True)
        either = "|".join(re.escape(word) for word in longest) or r"(?!)"
        return re.compile(rf"(?<!\w)(?:{either})(?!\w)", re.IGNORECASE)

    def without(self, text: str) -> str:
        """The text with every word that means the person exchanged for the number."""
        return self._pattern.sub(self.name, text)

    def is_in(self, text: str) -> bool:
        """Whether the text means the person anywhere."""
        return self._pattern.search(text) is not None

    def without_in(self, value: Any) -> Any:
        """The same for everything written inside lists and dictionaries."""
        return each_text(value, self.without)


def each_text(value: Any, change: Callable[[str], str]) -> Any:
    """The value with every text inside its lists and dictionaries changed, names of keys too."""
    if isinstance(value, str):
        return change(value)
    if isinstance(value, Mapping):
        return {change(str(key)): each_text(each, change) for key, each in value.items()}
    return [each_text(each, change) for each in value] if isinstance(value, list) else value


Scrub = Callable[[Erasing], None]
Ask = Callable[[Person, datetime], Iterator[str]]

SCRUBS: list[Scrub] = []
ASKS: list[Ask] = []


def also_erase(scrub: Scrub) -> Scrub:
    """Register what goes with a person; called in the erase's own transaction."""
    SCRUBS.append(scrub)
    return scrub


def first_ask(ask: Ask) -> Ask:
    """Register what stands in the way: sentences that say what to do before the erase."""
    ASKS.append(ask)
    return ask
