"""Sixty heads counted as posts: moved exactly, both in the record, later counts booked anew."""

from __future__ import annotations

import pytest

from inventory.ledger.queries import balance_of, check
from workshops.counting import actions
from workshops.counting.models import Mending
from workshops.counting.refusals import CountingRefused
from workshops.nights.actions import tally
from workshops.nights.models import Tally


@pytest.fixture
def count(scene):
    def counted(name: str, at: str, **numbers: int) -> Tally:
        operation = scene.operations[name]
        return tally(night=scene.night, operation=operation, at=scene.at(at), by=None, **numbers)

    return counted


@pytest.fixture
def mend(scene, duty_lead):
    def mended(counted_as: str, was: str | None, reason: str = "Bo saw", **numbers: int) -> Mending:
        wrong = actions.Wrong(
            counted_as=scene.operations[counted_as],
            was=scene.operations[was] if was else None, **numbers,
        )  # fmt: skip
        return actions.mend(
            night=scene.night, wrong=wrong, reason=reason, by=duty_lead, at=scene.at("20:00")
        )

    return mended


def balances(scene) -> tuple[int, int]:
    return int(balance_of(scene.stock.post)), int(balance_of(scene.stock.head))


def test_sixty_heads_counted_as_posts_become_heads(scene, count, mend) -> None:
    count("drill", "19:00", good=8)
    count("drill", "19:10", good=60)
    mend("drill", "weld", good=60)
    assert balances(scene) == (8, 60)
    assert list(check(scene.shop)) == []


def test_the_latest_counts_are_opened_and_the_rest_of_one_stays(scene, count, mend) -> None:
    count("drill", "19:00", good=10, scrap=2)
    count("drill", "19:10", good=10)
    mend("drill", "weld", good=12, scrap=1)
    rows = Tally.objects.filter(undoes=None, undone_by=None, operation=scene.operations["drill"])
    assert [(row.good, row.scrap, row.counted_at) for row in rows] == [(8, 1, scene.at("19:00"))]
    assert balances(scene) == (8, 12)


def test_what_later_counts_used_is_booked_anew(scene, count, mend) -> None:
    count("drill", "19:00", good=60)
    count("weld", "19:05", good=5)
    count("roll", "19:10", good=5)
    last = count("tag", "19:20", good=5)
    mend("drill", "weld", good=60)
    # Five posts went into sets: where they came from is a count difference now.
    assert balances(scene) == (0, 60)
    assert balance_of(scene.stock.complete) == 5
    last.refresh_from_db()
    assert "was taken back" in last.entry.reason
    assert list(check(scene.shop)) == []


def test_counted_twice_they_were_nothing(scene, count, mend) -> None:
    count("drill", "19:00", good=40)
    count("drill", "19:01", good=40)
    row = mend("drill", None, good=40)
    assert balances(scene) == (40, 0)
    assert str(row) == "40 Make Post were none"


@pytest.mark.parametrize(
    ("was", "numbers", "reason", "says"),
    [
        ("weld", {"good": 11}, "x", "10 good, 0 on hold and 0 scrap stand counted"),
        ("weld", {}, "x", "Say how many"), ("drill", {"good": 1}, "x", "choose what they were"),
        ("weld", {"good": 1}, " ", "Say why"),
    ],
)  # fmt: skip
def test_nonsense_is_refused(count, mend, was, numbers, reason, says) -> None:
    count("drill", "19:00", good=10)
    with pytest.raises(CountingRefused, match=says):
        mend("drill", was, reason, **numbers)
    assert not Mending.objects.exists()
