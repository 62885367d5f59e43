"""Where one person may stand in a block, station by station, asked of every rule at once.

What a cell says while somebody is picked up is what a move there would be told: both are
weighed by the same function on the same facts.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from workshops.nights.actions.by_hand import blocks_from
from workshops.nights.changes import version_of
from workshops.nights.loading import Loaded, load
from workshops.nights.models import Block, Night, Placing
from workshops.nights.refusals import NightRefused
from workshops.nights.remedies import remedy
from workshops.nights.weighing import Weighed, breaches_in, weigh
from workshops.people.models import Person
from workshops.people.names import short_names
from workshops.stations.models import Station


@dataclass(frozen=True, slots=True)
class Offer:
    """A station somebody could be moved to, or why not.

    ``no`` is why not, ``remedy`` what would make it so; ``but`` what the move would leave to
    mend (a crew not yet full); ``there`` how many others stand there then.
    """

    station: Station
    there: int
    is_here: bool
    as_learner: bool = False
    no: str = ""
    remedy: str = ""
    but: str = ""

    def to_json(self) -> dict[str, Any]:
        """As the board's script reads it."""
        no = f"{self.no} {self.remedy}".strip()
        return {
            "station": self.station.pk, "name": self.station.name, "is_here": self.is_here,
            "learns": self.as_learner, "no": no, "but": self.but,
        }  # fmt: skip


@dataclass(frozen=True)
class Offers:
    """Where one person may stand in a block. ``here`` is the placing they have, or None."""

    name: str
    here: Placing | None
    offers: tuple[Offer, ...]
    version: str

    @property
    def open(self) -> list[Offer]:
        """Where they may stand."""
        return [each for each in self.offers if not each.no]

    @property
    def shut(self) -> list[Offer]:
        """Where they may not."""
        return [each for each in self.offers if each.no]


def places_for(night: Night, block: Block, person: Person, *, to_end: bool = False) -> Offers:
    """Every station for one person in one block, or in it and all after it. 13 queries."""
    loaded = load(night)
    blocks = blocks_from(loaded, block, to_end=to_end)
    was = frozenset(breaches_in(loaded))
    at_block = [row for row in loaded.placings if row.block_id == block.pk]
    here = next((row for row in at_block if row.person_id == person.pk), None)
    offers = []
    for station in loaded.stations:
        others = sum(
            row.station_id == station.pk and row.person_id != person.pk for row in at_block
        )
        is_here = here is not None and here.station_id == station.pk
        offer = Offer(station, others, is_here)
        try:
            weighed = weigh(loaded, person=person.pk, station=station, blocks=blocks, was=was)
        except NightRefused as refused:
            offers.append(Offer(station, others, is_here, no=str(refused)))
            continue
        offers.append(_weighed(loaded, offer, weighed))
    names = short_names(loaded.register.people.values())
    return Offers(names[person.pk], here, tuple(offers), version_of(loaded.placings))


def _weighed(loaded: Loaded, offer: Offer, weighed: Weighed) -> Offer:
    row = weighed.rows[0]
    no = " ".join(dict.fromkeys(breach.message for breach in weighed.stopping))
    told = (remedy(loaded, breach, row) for breach in weighed.stopping)
    return Offer(
        offer.station,
        offer.there,
        offer.is_here,
        as_learner=row.role == Placing.Role.LEARNS,
        no=no,
        remedy=next((each for each in told if each), ""),
        but=next((breach.message for breach in weighed.new), "") if not no else "",
    )
