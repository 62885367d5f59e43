"""The chance that a station gets its crew, against every outcome counted out one by one."""

from __future__ import annotations

import random
from itertools import product

import pytest

from workshops.tonight.crews import Crew, Hand, how_many


def counted_out(crew: Crew, hands: list[Hand]) -> float:
    """The chance by trying every set of people who might come."""
    total = 0.0
    for here in product((True, False), repeat=len(hands)):
        weight = 1.0
        for hand, is_here in zip(hands, here, strict=True):
            weight *= hand.chance if is_here else 1 - hand.chance
        came = [hand for hand, is_here in zip(hands, here, strict=True) if is_here]
        total += weight if crew.is_full(came) else 0.0
    return total


def drawn_hands(drawn: random.Random) -> list[Hand]:
    return [
        Hand(
            person=number, chance=drawn.choice([0.0, 0.25, 0.6, 0.9, 1.0]),
            leads=drawn.random() < 0.3, works=drawn.random() < 0.5, learns=drawn.random() < 0.5,
            watches=drawn.random() < 0.4,
        )
        for number in range(7)
    ]  # fmt: skip


@pytest.mark.parametrize("seed", range(12))
def test_the_chance_is_that_of_every_outcome_counted_out(seed: int) -> None:
    drawn = random.Random(seed)
    hands = drawn_hands(drawn)
    crew = Crew(drawn.randint(1, 3), drawn.randint(0, 2), needs_watch=drawn.random() < 0.5)
    assert crew.chance(hands) == pytest.approx(counted_out(crew, hands), abs=1e-12)


def test_one_welder_and_one_watch_must_both_come() -> None:
    hands = [Hand(1, 0.9, works=True), Hand(2, 0.8, watches=True)]
    assert Crew(1, needs_watch=True).chance(hands) == pytest.approx(0.72)


def test_nobody_welds_and_watches_at_once() -> None:
    both = Hand(1, 1.0, works=True, watches=True)
    assert not Crew(1, needs_watch=True).is_full([both])
    assert Crew(1, needs_watch=True).is_full([both, Hand(2, 1.0, watches=True)])


def test_a_learner_counts_beside_a_lead_and_not_beside_somebody_who_works() -> None:
    learner, lead = Hand(1, 1.0, learns=True), Hand(2, 1.0, leads=True, works=True)
    assert Crew(2, 1).is_full([learner, lead])
    assert not Crew(2, 1).is_full([learner, Hand(3, 1.0, works=True)])
    assert not Crew(3, 1).is_full([learner, lead, Hand(4, 1.0, learns=True)])


def test_a_crew_hangs_on_whoever_nobody_can_stand_in_for() -> None:
    only = [Hand(1, 1.0, works=True), Hand(2, 1.0, watches=True), Hand(3, 1.0, watches=True)]
    assert Crew(1, needs_watch=True).hangs_on(only) == (1,)
    assert Crew(2).hangs_on(only) == ()


def test_nobody_gives_no_chance() -> None:
    assert Crew(1).chance([]) == 0.0
    assert not Crew(1).is_full([])


def test_shares_sum_to_one_and_the_mean_is_the_sum_of_the_chances() -> None:
    chances = [random.Random(3).random() for _ in range(9)]
    shares = how_many(chances, 9)
    assert sum(shares) == pytest.approx(1)
    assert sum(n * share for n, share in enumerate(shares)) == pytest.approx(sum(chances))
    variance = sum(n * n * share for n, share in enumerate(shares)) - sum(chances) ** 2
    assert variance == pytest.approx(sum(p * (1 - p) for p in chances))


def test_the_last_entry_gathers_all_that_are_more() -> None:
    assert how_many([0.5, 0.5, 0.5], 2) == pytest.approx([0.125, 0.375, 0.5])


def test_a_chance_above_one_is_refused() -> None:
    with pytest.raises(ValueError, match="must be 0 to 1"):
        how_many([1.2], 1)
