"""The shop and what its club decided."""

from __future__ import annotations

from inventory.measures.lengths import inches
from inventory.places.models import Shop
from workshops.club.models import ClubRule
from workshops.club.queries import rules_of


def test_the_shop_tells_the_time_and_measures_as_its_people_do(demo: Shop) -> None:
    assert demo.time_zone == "America/Chicago"
    assert demo.units == "in"
    assert demo.club.name == "Quillmere Marsh Club"


def test_rules_are_decided_by_somebody_from_something(demo: Shop) -> None:
    rows = ClubRule.objects.filter(shop=demo)
    assert rows.count() == 11
    assert all(row.decided_by and row.source for row in rows)


def test_limits_of_the_drawings_are_kept_as_lengths(demo: Shop) -> None:
    rules = rules_of(demo)
    assert rules.ring_inside_max_um == inches("11 1/2")
    assert rules.watch_minutes == 60
