"""Whether there is enough of a thing: a word and a shape before it is a colour."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from decimal import Decimal

from inventory.ledger.queries import OnHand
from inventory.ledger.refusals import plain
from inventory.materials.models import Item
from inventory.needs.queries import Needs

BOUGHT = (Item.Kind.METAL, Item.Kind.FILL, Item.Kind.SMALL)


@dataclass(frozen=True, slots=True)
class Standing:
    """One of the site's states, with the words that say what it means here."""

    state: str
    word: str


def standing_of(
    row: OnHand, *, is_used: bool, after_sets: Mapping[int, int] | None = None
) -> Standing | None:
    """How one item stands; ``None`` when nothing was ever asked of it.

    ``is_used``: a recipe in use takes it. ``after_sets`` says after how many sets it runs
    out, for the items that do not last for all that is wanted.
    """
    item = row.item
    # From the worst down: only the first that holds is said.
    if not row.good and (item.keep_at_least or (is_used and item.kind in BOUGHT)):
        return Standing("closed", "none left")
    if row.good < item.keep_at_least:
        return Standing("short", f"below {item.keep_at_least}")
    sets = (after_sets or {}).get(item.pk)
    if sets is not None:
        return Standing("short", f"for {sets} more sets")
    if item.rack_limit is not None and row.good >= item.rack_limit:
        return Standing("short", "rack full")
    if item.keep_at_least or (is_used and item.kind in BOUGHT and after_sets is not None):
        return Standing("open", "enough")
    return None


def after_sets_of(needs: Needs | None) -> dict[int, int] | None:
    """After how many sets each short item runs out; ``None`` when needs were never asked."""
    if needs is None:
        return None
    return {line.item.pk: line.after_sets for line in needs.runs_out}


def short_words(below: Collection[Item], needs: Needs | None) -> list[tuple[Item, Standing]]:
    """What is short in the whole shop: below its level, or not lasting for what is wanted."""
    found: dict[int, tuple[Item, Standing]] = {}
    for item in below:
        good: Decimal = getattr(item, "good", Decimal())
        word = f"{plain(good)} left, keep {item.keep_at_least}"
        found[item.pk] = (item, Standing("short" if good else "closed", word))
    # A level somebody set is nearer than a shortage worked out, and is said first.
    for line in needs.runs_out if needs else ():
        state = "short" if line.after_sets else "closed"
        found.setdefault(
            line.item.pk, (line.item, Standing(state, f"for {line.after_sets} more sets"))
        )
    return list(found.values())
