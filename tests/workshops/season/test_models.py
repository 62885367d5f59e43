"""What the database itself refuses of a winter."""

from __future__ import annotations

from datetime import date

import pytest
from django.db import IntegrityError

from tests.factories import make_item, make_winter
from workshops.season.models import IceOut, OutlookRun, Target


def test_a_winter_is_called_once_a_shop(shop, other_shop) -> None:
    assert str(make_winter(shop)) == "2025–26"
    make_winter(other_shop)
    with pytest.raises(IntegrityError):
        make_winter(shop)


@pytest.mark.parametrize(
    "dates",
    [
        {"ends_on": date(2025, 11, 1)},
        {"ready_by": date(2026, 2, 1)},
        {"ready_from": date(2025, 10, 1)},
    ],
)
def test_dates_out_of_order_are_refused(shop, dates) -> None:
    with pytest.raises(IntegrityError):
        make_winter(shop, **dates)


def test_a_target_adds_up_its_reasons(shop) -> None:
    item = make_item(shop, name="Short set")
    target = Target(winter=make_winter(shop), item=item, new=10, replacements=4, spares=1)
    assert (target.count, str(target)) == (15, "15 Short set")


def test_a_set_is_wanted_once_a_winter(shop) -> None:
    winter, item = make_winter(shop), make_item(shop)
    Target.objects.create(winter=winter, item=item)
    with pytest.raises(IntegrityError):
        Target.objects.create(winter=winter, item=item)


def test_the_ice_goes_once_a_day_on_one_water(shop) -> None:
    gone = IceOut.objects.create(shop=shop, water="Heron Bay", went_on=date(2025, 4, 2))
    assert str(gone) == "Heron Bay, 2025-04-02"
    with pytest.raises(IntegrityError):
        IceOut.objects.create(shop=shop, water="Heron Bay", went_on=date(2025, 4, 2))


def test_an_outlook_says_of_which_winter(shop) -> None:
    assert str(OutlookRun(winter=make_winter(shop))).startswith("Outlook of 2025–26, ")
