"""The yearly inspection of resistance (spot) welders."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from inventory.places.models import Shop
from tests.factories import make_station, make_tool
from workshops.club.actions import set_rule
from workshops.club.queries import rules_of
from workshops.stations.inspections import Stage, inspection_of
from workshops.stations.models import Station

LAST = date(2025, 1, 14)


@pytest.mark.django_db
@pytest.mark.parametrize(("day", "stage"), [
    (date(2025, 12, 1), Stage.DONE),
    (date(2026, 1, 14), Stage.SOON),  # the day a year later is the last
    (date(2026, 1, 15), Stage.OVERDUE),
])  # fmt: skip
def test_a_spot_welder_is_overdue_a_year_after_its_inspection(
    shop: Shop, day: date, stage: Stage
) -> None:
    """Michigan R 408.11281(1): not less than yearly, with records kept. Federal 29 CFR
    1910.255(e) says periodic and sets no interval (from memory)."""
    tool = make_tool(shop, make_station(shop, kind=Station.Kind.SPOT_WELD), inspected_on=LAST)
    assert inspection_of(tool, {Station.Kind.SPOT_WELD}, rules_of(shop), day).stage is stage


@pytest.mark.django_db
def test_an_arc_welder_has_no_yearly_inspection_unless_the_club_asks(shop: Shop) -> None:
    """Michigan R 408.11281(1) speaks of resistance welders alone."""
    tool = make_tool(shop, make_station(shop, kind=Station.Kind.WELD))
    assert inspection_of(tool, {"weld"}, rules_of(shop), LAST).stage is Stage.NOT_ASKED
    tool.inspection_months = 24
    assert inspection_of(tool, {"weld"}, rules_of(shop), LAST).stage is Stage.OVERDUE


@pytest.mark.django_db
def test_the_interval_is_a_policy_that_the_club_sets(shop: Shop, coordinator: Any) -> None:
    """29 CFR 1910.255(e) leaves the interval open (from memory): another may be decided."""
    set_rule(
        shop=shop, key="spot_inspection_months", value=6, decided_by="B", decided_on=LAST,
        source="m", by=coordinator,
    )  # fmt: skip
    tool = make_tool(shop, make_station(shop, kind=Station.Kind.SPOT_WELD), inspected_on=LAST)
    found = inspection_of(tool, {Station.Kind.SPOT_WELD}, rules_of(shop), LAST)
    assert found.due_on == date(2025, 7, 14)
