"""What the nights to come will make: at the season's pace, at a rate, as planned."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from inventory.materials.queries import recipes_in_use
from inventory.needs.queries import needs_in
from inventory.needs.scrap import Scrap, scrap_of
from tests.factories import TODAY, make_night, make_winter
from tests.workshops.nights.scene import Scene, bring_material, make_scene
from workshops.nights.models import Night
from workshops.season.models import Target
from workshops.stock.asking import ask
from workshops.stock.pace_ahead import BY_PACE, at_pace, at_rate


@pytest.fixture
def scene(shop, clock) -> Scene:
    scene = make_scene(shop)
    bring_material(scene)
    return scene


@pytest.fixture
def winter(scene: Scene):
    winter = make_winter(scene.shop)
    Target.objects.create(winter=winter, item=scene.stock.complete, new=40)
    for week in (1, 2):
        make_night(scene.shop, date=TODAY + timedelta(days=7 * week))
    return winter


def pieces(ahead) -> dict[int, int]:
    """Item -> pieces over all nights."""
    total: dict[int, int] = {}
    for _, made in ahead.nights:
        for item, count in made.items():
            total[item] = total.get(item, 0) + count
    return total


def test_a_rate_says_so_many_sets_on_every_night(scene, winter) -> None:
    ahead = at_rate(scene.shop, TODAY, 3)
    assert [sets for _, sets in ahead.nights] == [3, 3, 3]
    assert "3 sets on every planned night" in ahead.assumption


def test_the_pace_makes_whole_pieces_on_every_night_to_come(scene, winter) -> None:
    ahead = at_pace(scene.shop, TODAY, {})
    assert [day for day, _ in ahead.nights] == [TODAY + timedelta(days=7 * n) for n in range(3)]
    assert ahead.assumption == BY_PACE
    assert pieces(ahead)[scene.stock.cylinder.pk] > 0
    assert all(isinstance(n, int) and n >= 0 for _, made in ahead.nights for n in made.values())


def test_the_pace_goes_on_as_if_nothing_bought_were_short(scene, winter, shop) -> None:
    """With an empty store it makes as much: else nothing would ever be needed in time."""
    full = pieces(at_pace(shop, TODAY, {}))
    for row in scene.stock.straw.balances.all():
        row.quantity = 0
        row.save()
    assert pieces(at_pace(shop, TODAY, {})) == full


def test_what_fails_is_left_out_of_the_good_pieces(scene, winter) -> None:
    cylinder = scene.stock.cylinder.pk
    good = pieces(at_pace(scene.shop, TODAY, {}))[cylinder]
    half = {cylinder: Scrap(500, 50, 25, is_own=True)}
    assert abs(pieces(at_pace(scene.shop, TODAY, half))[cylinder] - good / 2) <= 1


def test_without_a_winter_the_usual_rate_stands(scene) -> None:
    assert "1 set on every planned night" in at_pace(scene.shop, TODAY, {}).assumption


def test_a_night_that_is_called_off_makes_nothing(scene, winter) -> None:
    Night.objects.filter(date=TODAY + timedelta(days=7)).update(status=Night.Status.CANCELLED)
    days = [day for day, _ in at_pace(scene.shop, TODAY, {}).nights]
    assert days == [TODAY, TODAY + timedelta(days=14)]


def test_asking_keeps_the_assumption_and_the_scrap(scene, winter) -> None:
    wanted = {scene.stock.complete.pk: 40}
    run = ask(shop=scene.shop, wanted=wanted, today=TODAY, by=None, stated_per_mille=100)
    needs = needs_in(run)
    assert needs.assumption == BY_PACE
    line = next(row for row in needs.exploded if row.item == scene.stock.post)
    assert (line.share, line.is_own) == (100, False)


def test_a_night_by_night_answer_dates_what_runs_out(scene, winter) -> None:
    wanted = {scene.stock.complete.pk: 400}
    needs = needs_in(ask(shop=scene.shop, wanted=wanted, today=TODAY, by=None, a_night=60))
    assert needs.stops_first is not None
    assert needs.stops_first.on_night in {date(2026, 1, 14), date(2026, 1, 21), date(2026, 1, 28)}


def test_scrap_is_asked_for_the_last_two_winters(scene) -> None:
    assert scrap_of(scene.shop, recipes_in_use(scene.shop))[scene.stock.head.pk].per_mille == 20
