"""Which piece is checked now? Due lines, one press for good, the drawing's judgement, bad."""

from __future__ import annotations

from datetime import timedelta
from uuid import uuid4

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from inventory.measures.lengths import feet, inches
from tests.factories import make_part
from workshops.nights import actions as nights
from workshops.nights.models import Placing
from workshops.quality.models import Check, Held
from workshops.stations.models import Operation, Station

pytestmark = pytest.mark.django_db
PAGE = "/teal-point/nights/2026-01-14/checks/"


def at(bench, name: str = "drill", more: str = "") -> str:
    return f"{PAGE}{bench.operation(name).pk}/{more}"


def press(bench, kind: str = "first", **given) -> dict[str, object]:
    key = given.pop("key", uuid4())
    return {"press": f"{bench.operation('drill').pk} {kind} {key}", "checked_by": "Ada R."} | given


def form(**given) -> dict[str, object]:
    return {
        "kind": "nth", "result": "good", "checked_by": "Ada R.", "client_key": str(uuid4())
    } | given  # fmt: skip


def drawn(bench, kind: str = Station.Kind.CUT) -> None:
    """The post is seven feet, give or take a sixteenth, with a hole a foot from its end."""
    operation = bench.operation("drill")
    part = make_part(
        bench.scene.shop, item=operation.recipe.output, length_um=feet(7),
        holes=[{"from_end_um": feet(1), "diameter_um": inches("1/2")}],
    )  # fmt: skip
    Station.objects.filter(pk=operation.station_id).update(kind=kind)
    Operation.objects.filter(pk=operation.pk).update(part=part)


def test_nothing_is_due_before_anybody_is_placed(bench, lead) -> None:
    assert "Nothing is being made yet" in lead.get(PAGE).text


def test_a_first_piece_is_due_where_somebody_is_placed(bench, lead) -> None:
    nights.place(
        night=bench.scene.night, block=bench.scene.blocks[0], person=bench.scene.people["Ada"],
        station=bench.scene.drill,
    )  # fmt: skip
    text = lead.get(PAGE).text
    assert "First piece, once the station is set up" in text
    assert "Good: Make Post" in text


def test_the_next_is_due_after_so_many_counted_pieces(bench, lead) -> None:
    Operation.objects.filter(slug="drill").update(check_every=25)
    bench.check(True, "18:40", kind=Check.Kind.FIRST)
    bench.count(24, "19:00")
    assert "24 since the last check, the next after 25." in lead.get(PAGE).text
    bench.count(3, "19:10")
    assert "27 since the last check, due now." in lead.get(PAGE).text


def test_where_the_operation_says_nothing_the_clubs_rule_says_when(bench, lead) -> None:
    bench.check(True, "18:40", kind=Check.Kind.FIRST)
    bench.count(30, "19:00")
    assert "30 since the last check, due now." in lead.get(PAGE).text


def test_one_press_writes_a_good_piece_down_once(bench, lead) -> None:
    bench.count(2, "19:00")
    given = press(bench)
    for _ in range(2):
        assert "first piece good" in lead.post(PAGE, given, follow=True).text
    row = Check.objects.get()
    assert (row.is_good, row.checked_by, row.by.username) == (True, "Ada R.", "dov")


@pytest.mark.parametrize(
    "given", [{"press": "x"}, {"press": "0 first x"}, {"kind": "odd"}, {"key": "no key"}]
)
def test_a_press_that_says_nothing_writes_nothing(bench, lead, given) -> None:
    lead.post(PAGE, press(bench, **{k: v for k, v in given.items() if k != "press"}) | given)
    assert not Check.objects.exists()


@pytest.mark.parametrize(
    ("value", "told"),
    [("7 ft", "7 ft, as drawn"), ("84 1/16", "go"), ("84 1/4", "no go"), ("soon", "length"),
     ("", "")],
)  # fmt: skip
def test_the_drawing_judges_while_one_types(bench, lead, value, told) -> None:
    drawn(bench)
    text = lead.get(at(bench, more="judge/"), {"measure": "0", "value": value}).text
    assert told in text.replace("84 in", "7 ft")


def test_what_the_drawing_refuses_is_not_written_down_as_good(bench, lead) -> None:
    drawn(bench)
    answer = lead.post(at(bench), form(value="84 1/4", measure="0"))
    assert answer.status_code == 422
    assert "The drawing says no: 1/4 in over the" in answer.text
    assert not Check.objects.exists()


def test_a_measured_bad_piece_needs_no_other_words(bench, lead) -> None:
    drawn(bench)
    lead.post(at(bench), form(value="84 1/4", measure="0", result="bad"))
    row = Check.objects.get()
    assert (row.how, row.value_um, row.is_good) == ("measured", inches("84 1/4"), False)
    assert row.words.startswith("1/4 in over the")


def test_at_the_drill_the_hole_is_measured(bench, lead) -> None:
    drawn(bench, Station.Kind.DRILL)
    text = lead.get(at(bench)).text
    assert "Hole 1 from the left end" in text
    lead.post(at(bench), form(value="12", measure="0"))
    assert Check.objects.get().said.endswith("as drawn; within the drawing")


def test_a_bad_piece_leads_to_what_it_held_back(bench, lead) -> None:
    bench.count(9, "19:00")
    text = lead.post(at(bench), form(result="bad", words="burr inside"), follow=True).text
    assert "How are the 9 on hold sorted?" in text
    assert "No good check is on record before" in text


def test_a_bad_piece_without_words_is_asked_again(bench, lead) -> None:
    answer = lead.post(at(bench), form(result="bad"))
    assert (answer.status_code, Check.objects.count()) == (422, 0)
    assert "say it in a few words" in answer.text


def test_a_break_test_takes_its_pieces_from_the_rack(bench, lead) -> None:
    bench.count(5, "19:00", "weld")
    lead.post(at(bench, "weld"), form(kind="break", looked_at="2", from_rack="on"))
    assert bench.there(bench.scene.stock.head) == (3, 0)
    answer = lead.post(at(bench, "weld"), form(kind="break", looked_at="9", from_rack="on"))
    assert "9 wanted, 3" in answer.text


def test_who_stood_there_is_shown_to_the_lead(bench, lead) -> None:
    Placing.objects.create(
        night=bench.scene.night, block=bench.scene.blocks[0], person=bench.scene.people["Bo"],
        station=bench.scene.weld,
    )  # fmt: skip
    assert "<b>Stood there since:</b> Bo R." in lead.get(at(bench, "weld", "?kind=break")).text


def test_what_the_sample_says_of_all_is_told(bench, lead) -> None:
    for _ in range(20):
        bench.check(True, "19:00")
    text = lead.get(at(bench)).text
    assert "20 looked at this winter, 0 bad:</b> between 0 and 16 in a hundred" in text


def test_a_wrong_check_is_put_right_and_both_stay_in_sight(bench, lead) -> None:
    bench.count(4, "19:00")
    wrong = bench.check(False, "19:05")
    assert "What was it really?" in lead.get(at(bench), {"kind": "nth", "corrects": wrong.pk}).text
    lead.post(at(bench), form(corrects=wrong.pk))
    assert "put right at" in lead.get(PAGE).text
    assert bench.there(bench.scene.stock.post) == (4, 0)


@pytest.mark.parametrize("who", ["volunteer", "reader", "storekeeper"])
def test_only_whoever_runs_the_night_sees_checks(bench, client_of, who, request) -> None:
    client = client_of(request.getfixturevalue(who))
    assert client.get(PAGE).status_code == client.get(at(bench)).status_code == 403


def test_there_are_no_checks_of_a_day_without_a_night(bench, lead) -> None:
    assert lead.get("/teal-point/nights/2026-01-15/checks/").status_code == 404


def test_the_page_takes_as_many_queries_for_more_checks(bench, lead) -> None:
    counts = []
    for _ in range(2):
        for number in range(5):
            bench.count(1, f"19:{10 + number}")
            bench.check(True, f"19:{11 + number}")
            bench.check(True, f"19:{11 + number}", "weld")
        with CaptureQueriesContext(connection) as caught:
            lead.get(PAGE)
        counts.append(len(caught))
    assert counts[0] == counts[1] <= 18


def test_pieces_of_an_earlier_night_count_towards_the_next_check(bench, lead, clock) -> None:
    bench.check(True, "18:40", kind=Check.Kind.FIRST)
    bench.count(10, "19:00")
    assert not Held.objects.exists()
    clock.shift(timedelta(minutes=5))
    assert "10 since the last check, the next after 25." in lead.get(PAGE).text
