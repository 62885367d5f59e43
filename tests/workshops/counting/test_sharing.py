"""Two tablets add and never overwrite; each key counts once, in whatever order it comes."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.utils import timezone

from inventory.ledger.queries import balance_of, check
from workshops.counting.models import Press, Tablet
from workshops.counting.queries import shared_up_to
from workshops.nights.models import Night, Tally


@pytest.fixture
def drill(scene) -> int:
    return scene.operations["drill"].pk


def standing() -> list[tuple[int, int, int]]:
    rows = Tally.objects.filter(undoes=None, undone_by=None).order_by("pk")
    return [(row.good, row.hold, row.scrap) for row in rows]


def test_taps_of_a_minute_are_one_count_with_all_their_keys(scene, tablet, drill) -> None:
    bench = tablet("bench tablet")
    for number in (1, 10, 1):
        bench.tap(drill, good=number)
    answer = bench.share()
    assert answer["totals"] == {str(drill): [12, 0, 0]}
    assert standing() == [(12, 0, 0)]
    assert Press.objects.filter(tally=Tally.objects.get()).count() == 3
    assert balance_of(scene.stock.post) == 12


def test_a_later_minute_is_another_count_at_its_own_time(tablet, drill) -> None:
    bench, now = tablet("bench tablet"), timezone.now()
    bench.tap(drill, now - timedelta(minutes=40), good=1)
    bench.tap(drill, now, good=2)
    bench.share()
    times = Tally.objects.order_by("counted_at").values_list("counted_at", flat=True)
    assert list(times) == [now - timedelta(minutes=40), now]


def test_a_batch_sent_again_counts_once(scene, tablet, drill) -> None:
    bench = tablet("bench tablet")
    bench.tap(drill, good=10, scrap=1)
    batch = bench.batch()
    first, second = bench.post(batch), bench.post(batch)
    assert first == second
    assert balance_of(scene.stock.post) == 10


def test_two_tablets_add(scene, tablet, drill) -> None:
    bench, door = tablet("bench tablet"), tablet("door tablet")
    bench.tap(drill, good=10)
    door.tap(drill, good=1)
    bench.share()
    answer = door.share()
    assert answer["totals"] == {str(drill): [11, 0, 0]}
    assert answer["own"] == {str(drill): [1, 0, 0]}


def test_a_tap_taken_back_before_it_was_sent_is_a_number_of_nothing(tablet, drill) -> None:
    bench = tablet("bench tablet")
    bench.take_back(bench.tap(drill, good=10))
    assert bench.share()["totals"] == {}
    assert shared_up_to(Tablet.objects.get()) == 1


def test_one_tap_of_a_burst_is_taken_back_and_the_others_stay(scene, tablet, drill) -> None:
    bench = tablet("bench tablet")
    wrong = [bench.tap(drill, good=number) for number in (1, 10, 1)][1]
    bench.share()
    bench.take_back(wrong)
    answer = bench.share()
    assert (standing(), answer["gone"]) == ([(2, 0, 0)], [str(wrong.key)])
    assert balance_of(scene.stock.post) == 2
    assert list(check(scene.shop)) == []


def test_taken_back_after_an_answer_was_lost_it_counts_nothing(scene, tablet, drill) -> None:
    bench = tablet("bench tablet")
    tap = bench.tap(drill, good=10)
    bench.post(bench.batch())
    bench.take_back(tap)
    bench.share()
    assert (standing(), balance_of(scene.stock.post)) == ([], 0)


def test_taken_back_before_it_comes_it_is_never_booked(tablet, drill) -> None:
    bench = tablet("bench tablet")
    tap = bench.tap(drill, good=10)
    tap.is_tried = True
    bench.take_back(tap)
    bench.post(bench.batch(bench.taps[1:]))
    bench.post(bench.batch(bench.taps[:1]))
    assert not Tally.objects.exists()


def test_what_cannot_be_booked_is_kept_with_its_reason(scene, tablet, drill) -> None:
    bench = tablet("bench tablet")
    bench.tap(999_999, good=3)
    bench.tap(drill, good=1)
    answer = bench.share()
    assert list(answer["said"].values()) == ["That operation is not one of this shop any more."]
    assert standing() == [(1, 0, 0)]
    assert not bench.waiting


def test_a_cancelled_night_keeps_the_taps(scene, tablet, drill) -> None:
    Night.objects.update(status=Night.Status.CANCELLED)
    bench = tablet("bench tablet")
    bench.tap(drill, good=1)
    assert "cannot be counted" in next(iter(bench.share()["said"].values()))
    assert Press.objects.get().refused


def test_a_wrong_clock_does_not_move_the_night(tablet, drill) -> None:
    bench, ahead = tablet("bench tablet"), timedelta(days=400)
    bench.tap(drill, timezone.now() + ahead - timedelta(minutes=5), good=1)
    batch = bench.batch() | {"now": (timezone.now() + ahead).isoformat()}
    bench.post(batch)
    assert Tally.objects.get().counted_at == timezone.now() - timedelta(minutes=5)


def test_a_missing_tap_is_known_by_its_number(tablet, drill) -> None:
    bench = tablet("blue tablet")
    for _ in range(4):
        bench.tap(drill, good=1)
    bench.post(bench.batch([*bench.taps[:2], bench.taps[3]]))
    row = Tablet.objects.get()
    assert (shared_up_to(row), row.told) == (2, 4)


def test_a_name_that_is_taken_gets_a_number(tablet, drill) -> None:
    first, second = tablet("bench tablet"), tablet("bench tablet")
    assert (first.share()["name"], second.share()["name"]) == ("bench tablet", "bench tablet 2")


def test_a_session_that_ended_takes_nothing_and_loses_nothing(tablet, drill, lead) -> None:
    bench = tablet("bench tablet")
    bench.tap(drill, good=1)
    lead.logout()
    assert bench.share() is None
    assert len(bench.waiting) == 1


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"taps": {}}, "taps"), ({"told": -1}, "told"), ({"told": True}, "told"),
        ({"tablet": "x"}, "tablet"), ({"more": 1}, "more"), ({"now": "late"}, "now"),
        ({"now": "2026-01-14T18:00"}, "zone"), ({"taps": [{"good": 1}]}, "at"),
        ({"name": 3}, "name"), ({"waiting": [1]}, "waiting"),
    ],
)  # fmt: skip
def test_what_is_not_written_as_a_tablet_writes_it_is_refused(
    change, says, scene, tablet, lead, page
) -> None:
    body = tablet("bench tablet").batch() | change
    answer = lead.post(page("share"), body, content_type="application/json")
    assert answer.status_code == 422
    assert says in answer.json()["says"]
