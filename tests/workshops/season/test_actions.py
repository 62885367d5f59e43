"""Winters, targets, ice and outlooks: what is kept and what is refused."""

from __future__ import annotations

from datetime import date

import pytest

from tests.factories import make_item
from workshops.nights.models import Aim, Night
from workshops.season import actions
from workshops.season.models import IceOut, OutlookRun, Target, Winter
from workshops.season.queries import latest_outlook
from workshops.season.refusals import WinterRefused
from workshops.season.showing import stored

TODAY = date(2026, 1, 14)
DATES = {
    "starts_on": date(2026, 11, 1), "ends_on": date(2027, 3, 31),
    "ready_from": date(2027, 3, 1), "ready_by": date(2027, 3, 15),
}  # fmt: skip


def outlook(season, winters: int = 100) -> OutlookRun:
    return actions.work_out_outlook(winter=season.winter, today=TODAY, by=None, winters=winters)


def test_a_winter_begins(shop) -> None:
    assert actions.add_winter(shop=shop, name="2026–27", **DATES) == Winter.objects.get()


def test_a_name_is_taken_once(shop) -> None:
    actions.add_winter(shop=shop, name="2026–27", **DATES)
    with pytest.raises(WinterRefused, match="already a winter called 2026–27"):
        actions.add_winter(shop=shop, name="2026–27", **DATES)


@pytest.mark.parametrize(
    "dates",
    [{"ends_on": date(2026, 10, 1)}, {"ready_from": date(2026, 10, 1)},
     {"ready_by": date(2027, 2, 1)}],
)  # fmt: skip
def test_dates_out_of_order_are_refused_in_words(shop, dates) -> None:
    with pytest.raises(WinterRefused, match="starts before it ends"):
        actions.add_winter(shop=shop, name="2026–27", **(DATES | dates))
    assert not Winter.objects.exists()


def test_a_target_tells_the_placing_what_is_still_wanted(season) -> None:
    season.make("tag", 3)
    season.want()
    aim = Aim.objects.get()
    assert (aim.item, aim.wanted) == (season.scene.stock.complete, 12)


def test_a_target_set_again_replaces_the_first(season) -> None:
    season.want()
    season.want(new=2, replacements=0, spares=0)
    assert Target.objects.get().count == 2
    assert Aim.objects.get().wanted == 2


def test_only_complete_sets_of_this_shop_are_wanted(season, other_shop) -> None:
    for item in (season.scene.stock.post, make_item(other_shop, kind="set")):
        with pytest.raises(WinterRefused, match="not one of this shop's complete sets"):
            actions.set_target(winter=season.winter, item=item, wanted=actions.Wanted(1))
    assert not Target.objects.exists()


def test_the_same_ice_out_is_noted_once(shop) -> None:
    for water in ("Heron Bay", " Heron Bay "):
        actions.note_ice_out(shop=shop, water=water, went_on=date(2025, 4, 2))
    assert IceOut.objects.count() == 1


def test_an_outlook_is_kept_with_what_it_came_from(season, coordinator) -> None:
    season.want()
    season.hold_last_week("Ada", "Bo", "Cy")
    run = actions.work_out_outlook(
        winter=season.winter, today=TODAY, by=coordinator, winters=100, seed=3
    )
    assert latest_outlook(season.winter) == run
    assert (run.seed, run.made_by, run.params) == (3, coordinator, {"winters": 100})
    kept = stored(run)
    assert (kept.target, kept.winters) == (15, 100)
    assert [night.date for night in kept.nights] == ["2026-01-14", "2026-01-21"]
    assert kept.is_legal()


def test_the_same_seed_gives_the_same_outlook(season) -> None:
    season.want()
    first, second = outlook(season).result, outlook(season).result
    assert first | {"seconds": 0} == second | {"seconds": 0}


def test_without_a_target_there_is_no_outlook(season) -> None:
    with pytest.raises(WinterRefused, match="Set the target first"):
        outlook(season)


def test_a_target_nobody_can_make_is_told_apart_from_none(season) -> None:
    season.want()
    season.scene.operations["tag"].is_in_use = False
    season.scene.operations["tag"].save()
    with pytest.raises(WinterRefused, match="No operation in use makes the sets"):
        outlook(season)


def test_without_nights_there_is_no_outlook(season) -> None:
    season.want()
    Night.objects.update(status=Night.Status.CANCELLED)
    with pytest.raises(WinterRefused, match="No night is planned any more"):
        outlook(season)
    assert not OutlookRun.objects.exists()


def test_an_outlook_renews_what_the_placing_is_told(season) -> None:
    season.want()
    Aim.objects.update(wanted=99)
    outlook(season)
    assert Aim.objects.get().wanted == 15
