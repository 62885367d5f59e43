"""What was made? Big buttons, other numbers, one count a press, and taking back."""

from __future__ import annotations

from uuid import uuid4

import pytest

from inventory.ledger.queries import balance_of
from tests.factories import make_night, make_operation
from workshops.nights import actions
from workshops.nights.models import Placing, Tally


def counted(scene, name: str = "drill", **fields) -> dict[str, object]:
    usual = {"operation": scene.operations[name].pk, "client_key": str(uuid4())}
    return usual | fields


def sent(client, url: str, given: dict[str, object]) -> str:
    return client.post(url, given, follow=True).content.decode()


@pytest.mark.parametrize(("pressed", "good"), [({"add": "1"}, 1), ({"add": "10"}, 10)])
def test_a_button_counts_good_ones(scene, lead, page, pressed, good) -> None:
    shown = sent(lead, page("tally"), counted(scene, **pressed))
    assert f"Make Post: {good} good, 0 on hold, 0 scrap counted." in shown
    assert balance_of(scene.stock.post) == good


def test_any_number_is_counted_with_hold_and_scrap(scene, lead, page) -> None:
    sent(lead, page("tally"), counted(scene, good="4", hold="2", scrap="1"))
    row = Tally.objects.get()
    assert (row.good, row.hold, row.scrap, row.by.username) == (4, 2, 1, "dov")


def test_a_double_press_counts_once_and_says_so(scene, lead, page, clock) -> None:
    given = counted(scene, add="10")
    sent(lead, page("tally"), given)
    clock.shift(2)
    assert "that press was counted before" in sent(lead, page("tally"), given)
    assert balance_of(scene.stock.post) == 10


def test_an_old_page_is_not_shown_again_with_its_keys(scene, lead, page) -> None:
    assert lead.get(page("tally"))["Cache-Control"] == "no-store"


@pytest.mark.parametrize(
    ("given", "told"),
    [({"good": "-3"}, "Good:"), ({"good": "three"}, "Good:"), ({"operation": "0"}, "Operation:")],
)
def test_what_cannot_be_counted_is_told_by_its_field(scene, lead, page, given, told) -> None:
    answer = lead.post(page("tally"), counted(scene, **given))
    assert answer.status_code == 422
    assert f"Nothing was counted. {told}" in answer.content.decode()
    assert not Tally.objects.exists()


def test_nothing_written_is_refused_in_words(scene, lead, page) -> None:
    assert "Count at least one Make Post" in sent(lead, page("tally"), counted(scene))


def test_stations_of_tonight_stand_first_and_the_rest_are_folded_away(scene, lead, page) -> None:
    Placing.objects.create(
        night=scene.night, block=scene.blocks[0], person=scene.people["Dee"], station=scene.tag
    )
    shown = lead.get(page("tally")).content.decode()
    fold = shown.index("Stations that are not in tonight’s plan")
    assert shown.index("Make Set") < fold < shown.index("Make Post")


def test_without_operations_the_page_says_what_to_set_up(scene, lead, page) -> None:
    for operation in scene.operations.values():
        operation.delete()
    assert "no operation is set up" in lead.get(page("tally")).content.decode()


def test_a_count_is_taken_back(scene, lead, page) -> None:
    sent(lead, page("tally"), counted(scene, good="4"))
    shown = sent(lead, page("undo", Tally.objects.get().pk), {})
    assert "4 Make Post taken back." in shown
    assert balance_of(scene.stock.post) == 0


def test_what_was_used_since_cannot_be_taken_back(scene, lead, page) -> None:
    for name in ("drill", "weld", "roll", "tag"):
        sent(lead, page("tally"), counted(scene, name, good="1"))
    first = Tally.objects.get(operation=scene.operations["roll"])
    assert "has been used since" in sent(lead, page("undo", first.pk), {})


def test_a_count_of_another_night_is_not_found(scene, lead, page, other_shop) -> None:
    there = make_night(other_shop)
    scene.stock.bring(scene.stock.tube, 1, 6_096_000)
    row = actions.tally(
        night=scene.night,
        operation=scene.operations["drill"],
        at=scene.at("19:00"),
        by=None,
        good=1,
    )
    Tally.objects.filter(pk=row.pk).update(night=there)
    assert lead.post(page("undo", row.pk)).status_code == 404


def test_the_page_takes_as_many_queries_for_twice_the_work(
    scene, lead, page, django_assert_max_num_queries
) -> None:
    for _ in range(8):
        make_operation(scene.tag)
    with django_assert_max_num_queries(10):
        lead.get(page("tally"))


def test_only_whoever_runs_the_night_counts(scene, guest, stranger, client_of, page) -> None:
    assert guest.post(page("tally"), counted(scene, add="1")).status_code == 403
    assert client_of(stranger).post(page("tally"), counted(scene, add="1")).status_code == 404
    assert not Tally.objects.exists()
