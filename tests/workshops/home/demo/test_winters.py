"""Targets, the ready-by band and the springs before."""

from __future__ import annotations

from collections import Counter
from datetime import timedelta

from inventory.places.models import Shop
from tests.workshops.home.demo.conftest import TODAY
from workshops.nights.models import Aim
from workshops.season.models import IceOut, Winter
from workshops.season.queries import progress_of, winter_of


def test_nearly_half_of_the_target_is_made(demo: Shop) -> None:
    winter = winter_of(demo, TODAY)
    assert winter
    progress = progress_of(winter)
    assert len(progress.kinds) == 4
    assert 40 <= progress.percent <= 50


def test_the_placing_knows_what_is_still_wanted(demo: Shop) -> None:
    winter = winter_of(demo, TODAY)
    assert winter
    wanted = {row.item.pk: row.left for row in progress_of(winter).kinds}
    assert dict(Aim.objects.filter(shop=demo).values_list("item", "wanted")) == wanted


def test_last_winter_fell_short_of_its_target(demo: Shop) -> None:
    last = Winter.objects.filter(shop=demo).earliest("starts_on")
    assert 75 <= progress_of(last).percent < 100


def test_the_sets_are_wanted_before_the_ice_usually_goes(demo: Shop) -> None:
    winter = winter_of(demo, TODAY)
    assert winter
    after = sorted(
        (row.went_on.replace(year=TODAY.year) - TODAY).days for row in demo.iceout_set.all()
    )
    middle = TODAY + timedelta(days=after[len(after) // 2])
    assert TODAY < winter.ready_from < winter.ready_by < middle


def test_three_waters_have_about_twelve_springs_each(demo: Shop) -> None:
    springs = Counter(IceOut.objects.filter(shop=demo).values_list("water", flat=True))
    assert sorted(springs.values()) == [11, 11, 12]
