"""Whether a station gets its crew, and how likely that is: pure counting, no rows.

People come or stay away independently of one another, each with a chance of their own, so
the number who come of any group follows the Poisson binomial distribution. A crew needs
people who may work there alone; learners count beside a lead, and hot work takes one person
more who keeps the fire watch and has no other work. All sums are exact.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import product


@dataclass(frozen=True, slots=True)
class Hand:
    """One person who may be of use at a station, and how likely they are to be here.

    Parameters
    ----------
    person
        Id.
    chance
        0 to 1; 1 for somebody in the building.
    leads, works, learns, watches
        What the gate lets them do: lead or work there, learn there, keep its fire watch. Who
        may lead may work.
    """

    person: int
    chance: float
    leads: bool = False
    works: bool = False
    learns: bool = False
    watches: bool = False

    @property
    def kind(self) -> Kind:
        """What they count as in a crew."""
        rank = "leads" if self.leads else "works" if self.works else ""
        return Kind(rank or ("learns" if self.learns else ""), self.watches)


@dataclass(frozen=True, slots=True, order=True)
class Kind:
    """People who count alike in a crew: by what they may do, and whether they may watch."""

    rank: str
    watches: bool


@dataclass(frozen=True)
class Crew:
    """What one open bench needs.

    Parameters
    ----------
    least
        People at the bench, 1 or more, learners included.
    learners_per_lead
        Learners that one lead may have beside them.
    needs_watch
        Hot work: somebody else must keep the fire watch.
    """

    least: int
    learners_per_lead: int = 0
    needs_watch: bool = False

    def is_full(self, hands: Iterable[Hand]) -> bool:
        """Whether these people, all of them here, are enough."""
        counts: dict[Kind, int] = {}
        for hand in hands:
            counts[hand.kind] = counts.get(hand.kind, 0) + 1
        return self._is_full(counts)

    def chance(self, hands: Sequence[Hand]) -> float:
        """How likely it is that enough come: exact, 0 to 1.

        Notes
        -----
        Each kind of people is counted apart; more of one kind than a crew can use make no
        difference, so counts end there and the sum runs over few cases.

        Source
        ------
        The recursion of the Poisson binomial distribution: one person after the other.
        """
        return sum(weight for weight, counts in self._cases(hands) if self._is_full(counts))

    def hangs_on(self, hands: Sequence[Hand]) -> tuple[int, ...]:
        """The people without each of whom those given are too few; empty when they are anyway."""
        if not self.is_full(hands):
            return ()
        return tuple(
            hand.person
            for hand in hands
            if not self.is_full([each for each in hands if each.person != hand.person])
        )

    @cached_property
    def _cap(self) -> int:
        return self.least + 1

    def _cases(self, hands: Sequence[Hand]) -> Iterator[tuple[float, dict[Kind, int]]]:
        kinds = sorted({hand.kind for hand in hands})
        each = [
            list(enumerate(how_many([h.chance for h in hands if h.kind == kind], self._cap)))
            for kind in kinds
        ]
        for case in product(*each):
            weight = 1.0
            for _, share in case:
                weight *= share
            if weight > 0:
                yield weight, {kind: n for kind, (n, _) in zip(kinds, case, strict=True)}

    def _is_full(self, counts: dict[Kind, int]) -> bool:
        if not self.needs_watch:
            return self._has_crew(counts)
        # Whoever watches has no other work: try one of each kind that may.
        return any(
            self._has_crew(counts | {kind: count - 1})
            for kind, count in counts.items()
            if kind.watches and count
        )

    def _has_crew(self, counts: dict[Kind, int]) -> bool:
        there = {"leads": 0, "works": 0, "learns": 0, "": 0}
        for kind, count in counts.items():
            there[kind.rank] += count
        learners = min(there["learns"], self.learners_per_lead * there["leads"])
        return there["leads"] + there["works"] + learners >= self.least


def how_many(chances: Iterable[float], most: int) -> list[float]:
    """The chance that 0, 1, … come; the last entry is for ``most`` or more.

    Raises
    ------
    ValueError
        When a chance is none.
    """
    shares = [1.0] + [0.0] * most
    for chance in chances:
        if not 0 <= chance <= 1:
            raise ValueError(f"a chance must be 0 to 1, not {chance}")
        stays = shares[most]
        for count in range(most, 0, -1):
            shares[count] = shares[count] * (1 - chance) + shares[count - 1] * chance
        # More of them than are counted are still more: nobody leaves the last entry.
        shares[most] += stays * chance
        shares[0] *= 1 - chance
    return shares
