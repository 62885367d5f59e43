"""The pages that belong to one night, as the strip at their top shows them.

Each slice adds its own page when it is ready, so that no slice need know those to its right:

    add(NightPage("Roll", "nights:roll", "run_night", 30))

The page's address takes the shop and the day of the night, in this order.
"""

from __future__ import annotations

from collections.abc import Collection
from contextlib import suppress
from dataclasses import dataclass
from datetime import date

from django.urls import NoReverseMatch, reverse


@dataclass(frozen=True)
class NightPage:
    """One page of every night; ``place`` orders the strip, in the order of an evening."""

    label: str
    page: str
    permission: str
    place: int


@dataclass(frozen=True)
class Step:
    """A page of one night as one person sees it now: where it leads, whether we stand in it."""

    label: str
    url: str
    is_here: bool


PAGES: dict[str, NightPage] = {}


def add(page: NightPage) -> None:
    """Put a page on the strip; a later one of the same label takes its place."""
    PAGES[page.label] = page


def steps(shop_slug: str, day: date, may: Collection[str], path: str) -> list[Step]:
    """The pages of a night somebody may open; ``path`` is the address being shown."""
    pages = sorted(PAGES.values(), key=lambda page: page.place)
    found = []
    for page in pages:
        # A slice may be ready before its addresses are included: its page is not there yet.
        with suppress(NoReverseMatch):
            if page.permission in may:
                found.append((page.label, reverse(page.page, args=[shop_slug, day])))
    # The board's address begins all the others: the longest that leads here is where we are.
    under = [url for _, url in found if path.startswith(url)]
    here = max(under, key=len, default=None)
    return [Step(label, url, url == here) for label, url in found]
