"""From where to where a thing moved: a place, a place on hold, or one of the book's accounts.

A line of the book is one side of a movement. Here both sides stand in one row, as people
tell it: five bolts from the drawer to (scrap). Any balanced entry comes apart into such rows
and is put together from them again.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import TypeVar

from inventory.ledger.models import Condition, Entry, Line
from workshops.stock.exchange.known import Known, word

Kind, Account = Entry.Kind, Line.Account

# In brackets, so that a bin that is called Scrap stays a place.
ACCOUNTS: dict[str, str] = {
    Account.OUTSIDE: "(outside)",
    Account.USED: "(used up)",
    Account.MADE: "(made here)",
    Account.SCRAP: "(scrap)",
    Account.DIFFERENCE: "(count difference)",
}
HELD = " (on hold)"
_ACCOUNT_WORDS = {spelled.strip("()"): account for account, spelled in ACCOUNTS.items()} | {
    "supplier": Account.OUTSIDE, "donor": Account.OUTSIDE, "marsh": Account.OUTSIDE,
    "used": Account.USED, "made": Account.MADE, "difference": Account.DIFFERENCE,
}  # fmt: skip

# What an empty end means, by kind: from, to.
USUAL: dict[str, tuple[str | None, str | None]] = {
    Kind.GOODS_IN: (Account.OUTSIDE, None),
    Kind.USED: (Account.USED, Account.USED),
    Kind.MADE: (Account.MADE, Account.USED),
    Kind.CUT: (Account.USED, Account.USED),
    Kind.MOVED: (None, None),
    Kind.COUNTED: (Account.DIFFERENCE, Account.DIFFERENCE),
    Kind.SCRAP: (None, Account.SCRAP),
    Kind.RETURNED: (Account.OUTSIDE, None),
    Kind.SET_OUT: (None, Account.OUTSIDE),
}
# What the account of a movement must be, where its kind leaves no choice.
FIXED = {
    Kind.GOODS_IN: Account.OUTSIDE, Kind.USED: Account.USED, Kind.COUNTED: Account.DIFFERENCE,
    Kind.SCRAP: Account.SCRAP, Kind.RETURNED: Account.OUTSIDE, Kind.SET_OUT: Account.OUTSIDE,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class End:
    """One end of a movement: an account, or a place and the condition there."""

    account: str
    place: str = ""
    condition: str = Condition.GOOD

    @property
    def is_shelf(self) -> bool:
        """Whether it is a place."""
        return self.account == Account.SHELF

    @property
    def compared(self) -> tuple[str, str, str]:
        """The same for two ends that are one."""
        return self.account, word(self.place), self.condition if self.is_shelf else ""

    def __str__(self) -> str:
        if not self.is_shelf:
            return ACCOUNTS[self.account]
        return self.place + (HELD if self.condition == Condition.HOLD else "")


def read_end(text: str, known: Known) -> End:
    """The end that a cell names.

    Raises
    ------
    ValueError
        When it is neither a place of the shop nor an account.
    """
    if text.startswith("(") and text.endswith(")"):
        account = _ACCOUNT_WORDS.get(word(text[1:-1]))
        if account is None:
            raise ValueError(f"“{text}” is none of: {', '.join(ACCOUNTS.values())}.")
        return End(account)
    name, held, rest = text.partition(HELD)
    is_held = bool(held) and not rest
    if not is_held and word(text) not in known.places and word(text) in _ACCOUNT_WORDS:
        return End(_ACCOUNT_WORDS[word(text)])
    place = known.place(name if is_held else text)
    return End(Account.SHELF, place.name, Condition.HOLD if is_held else Condition.GOOD)


def both_ends(kind: str, source: End | None, target: End | None) -> tuple[End, End]:
    """Both ends of a movement of that kind, the empty one filled in.

    Raises
    ------
    ValueError
        When an end is missing, or the two do not make a movement of the kind.
    """
    # Held and released things stay where they lie: one end says it for both.
    if kind == Kind.HOLD and source and source.is_shelf and target is None:
        target = End(Account.SHELF, source.place, Condition.HOLD)
    if kind == Kind.RELEASE and source and source.is_shelf and target is None:
        target = End(Account.SHELF, source.place)
        source = End(Account.SHELF, source.place, Condition.HOLD)
    usual_source, usual_target = USUAL.get(kind, (None, None))
    source = source or (End(usual_source) if usual_source else None)
    target = target or (End(usual_target) if usual_target else None)
    if source is None or target is None:
        raise ValueError(f"{'From' if source is None else 'To'}: fill in the place.")
    _refuse_odd(kind, source, target)
    return source, target


def _refuse_odd(kind: str, source: End, target: End) -> None:
    if source.compared == target.compared:
        raise ValueError("It comes from where it goes to: mend one of the two.")
    shelves = [end for end in (source, target) if end.is_shelf]
    both = kind in (Kind.MOVED, Kind.HOLD, Kind.RELEASE)
    if not shelves and kind not in (Kind.MADE, Kind.CUT):
        raise ValueError("Neither end is a place: fill in where it lay or where it is put.")
    if both and len(shelves) < 2:
        raise ValueError("Both ends must be places.")
    wanted = FIXED.get(Kind(kind))
    if wanted and wanted not in (source.account, target.account):
        raise ValueError(f"One end must be {ACCOUNTS[wanted]}, or empty.")
    if kind in (Kind.GOODS_IN, Kind.RETURNED) and not target.is_shelf:
        raise ValueError("To: fill in the place where it was put.")


Thing = TypeVar("Thing")


def flows(lines: Iterable[tuple[Thing, End, Decimal]]) -> Iterator[tuple[Thing, End, End, Decimal]]:
    """The lines of one entry as movements: thing, from, to, how many.

    ``Thing`` is what must balance, an item of one length. Lines out are matched with lines
    in, in the order in which they were written.
    """
    out: dict[Thing, list[tuple[End, Decimal]]] = defaultdict(list)
    into: dict[Thing, list[tuple[End, Decimal]]] = defaultdict(list)
    for thing, end, quantity in lines:
        (out if quantity < 0 else into)[thing].append((end, abs(quantity)))
    for thing, sources in out.items():
        targets = into[thing]
        while sources and targets:
            (source, going), (target, coming) = sources.pop(0), targets.pop(0)
            moved = min(going, coming)
            yield thing, source, target, moved
            if going > moved:
                sources.insert(0, (source, going - moved))
            if coming > moved:
                targets.insert(0, (target, coming - moved))
