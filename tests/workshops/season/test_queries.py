"""How far the winter is: wanted, made, and still to make."""

from __future__ import annotations

from datetime import date

from tests.factories import make_winter
from workshops.nights import actions as nights
from workshops.season import queries


def test_the_winter_of_a_day_is_the_one_around_it(shop) -> None:
    now = make_winter(shop)
    make_winter(
        shop, name="2024–25", starts_on=date(2024, 11, 1), ends_on=date(2025, 3, 31),
        ready_from=date(2025, 3, 1), ready_by=date(2025, 3, 15),
    )  # fmt: skip
    assert queries.winter_of(shop, date(2026, 1, 14)) == now
    assert queries.winter_of(shop, date(2025, 1, 14)).name == "2024–25"


def test_between_winters_the_latest_one_is_shown(shop) -> None:
    now = make_winter(shop)
    assert queries.winter_of(shop, date(2026, 7, 1)) == now


def test_a_shop_without_winters_has_none(shop, other_shop) -> None:
    make_winter(other_shop)
    assert queries.winter_of(shop, date(2026, 1, 14)) is None
    assert queries.still_wanted(shop, date(2026, 1, 14)) == {}


def test_progress_counts_good_sets_of_this_winter(season) -> None:
    season.want()
    season.make("tag", 4, hold=2, scrap=1)
    progress = queries.progress_of(season.winter)
    assert (progress.wanted, progress.made, progress.percent) == (15, 4, 26)
    assert [row.left for row in progress.kinds] == [11]


def test_what_was_taken_back_was_not_made(season) -> None:
    season.want()
    row = season.make("tag", 4)
    nights.undo_tally(tally=row, at=season.scene.at("18:00"), by=None)
    assert queries.progress_of(season.winter).made == 0


def test_more_than_wanted_leaves_nothing_to_make(season) -> None:
    season.want(new=1, replacements=0, spares=0)
    season.make("tag", 4)
    [row] = queries.progress_of(season.winter).kinds
    assert row.left == 0


def test_without_a_target_nothing_is_wanted(season) -> None:
    progress = queries.progress_of(season.winter)
    assert (progress.kinds, progress.wanted, progress.percent) == ((), 0, 0)


def test_progress_takes_two_queries(season, django_assert_num_queries) -> None:
    season.want()
    with django_assert_num_queries(2):
        assert queries.progress_of(season.winter).wanted == 15


def test_what_is_still_wanted_is_told_by_set(season) -> None:
    season.want()
    season.make("tag", 5)
    wanted = queries.still_wanted(season.shop, date(2026, 1, 14))
    assert wanted == {season.scene.stock.complete.pk: 10}


def test_the_targets_numbers_fill_its_form(season) -> None:
    season.want()
    item = season.scene.stock.complete.pk
    assert queries.wanted_of(season.winter, str(item)) == {
        "item": item, "new": 10, "replacements": 4, "spares": 1,
    }  # fmt: skip
    assert queries.wanted_of(season.winter, "none") == {}
    assert queries.wanted_of(season.winter, "0") == {}


def test_without_an_outlook_there_is_none(season) -> None:
    assert queries.latest_outlook(season.winter) is None
