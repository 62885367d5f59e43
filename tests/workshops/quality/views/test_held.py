"""What a failed check held back: where it is, who stood there, sorting, holding further."""

from __future__ import annotations

from uuid import uuid4

import pytest

from workshops.quality.models import Check, Held, Sorted

pytestmark = pytest.mark.django_db


@pytest.fixture
def held(bench) -> Held:
    """Twenty posts under suspicion, twelve of them in sets."""
    bench.check(True, "18:40")
    bench.count(20, "19:00")
    bench.count(12, "19:10", "tag")
    return bench.check(False, "19:20").held.get()


def page(held: Held, more: str = "") -> str:
    return f"/teal-point/nights/2026-01-14/checks/held/{held.pk}/{more}"


def sorting(**given) -> dict[str, object]:
    return {"sorted_by": "Bo R.", "client_key": str(uuid4())} | given


def test_it_tells_how_many_and_where_the_others_are(held, lead) -> None:
    text = lead.get(page(held)).text
    assert "How are the 8 on hold sorted?" in text
    assert "12 are in Set already: look at 12 Set." in text
    assert "Counted since the last good check, Wed 14 Jan, 18:40." in text


def test_the_sets_are_held_too_in_one_press(held, lead) -> None:
    given = {"item": held.gone[0]["item"], "client_key": str(uuid4())}
    text = lead.post(page(held, "further/"), given, follow=True).text
    assert "12 Set are on hold." in text
    assert "They have suspected post in them." in text
    assert "12 of them are on hold" in lead.get(page(held)).text


@pytest.mark.parametrize("given", [{"item": "x"}, {"item": "0", "client_key": "x"}])
def test_a_press_for_nothing_there_is_not_found(held, lead, given) -> None:
    assert lead.post(page(held, "further/"), given).status_code == 404


def test_holding_further_without_a_key_holds_nothing(held, lead) -> None:
    given = {"item": held.gone[0]["item"], "client_key": "x"}
    assert "Nothing was held back." in lead.post(page(held, "further/"), given, follow=True).text
    assert Held.objects.count() == 1


def test_it_is_sorted_in_counts_and_the_rest_is_left(held, lead, bench) -> None:
    text = lead.post(page(held), sorting(good="3", rework="4"), follow=True).text
    assert "How are the 1 on hold sorted?" in text
    assert text.count('id="id_client_key"') == 1
    assert "Check a mended one" in text
    assert bench.there(held.item) == (3, 5)


def test_more_than_there_are_is_refused_on_the_page(held, lead) -> None:
    answer = lead.post(page(held), sorting(good="9"))
    assert answer.status_code == 422
    assert "9 are more than the 8 still to sort." in answer.text


def test_mended_ones_come_back_after_a_good_check(held, lead, bench) -> None:
    lead.post(page(held), sorting(rework="8"))
    bench.scene.night.refresh_from_db()
    given = sorting(good="8", from_rework="on")
    assert "check one first" in lead.post(page(held), given).text
    lead.post(
        f"/teal-point/nights/2026-01-14/checks/{held.failed.operation_id}/",
        {"kind": "rework", "result": "good", "checked_by": "Ada", "client_key": str(uuid4())},
    )
    assert Check.objects.filter(kind="rework").exists()
    text = lead.post(page(held), given, follow=True).text
    assert "All of them are sorted" in text
    assert bench.there(held.item) == (8, 0)


def test_what_cannot_be_mended_is_scrapped_without_a_check(held, lead, bench) -> None:
    lead.post(page(held), sorting(rework="8"))
    lead.post(page(held), sorting(scrap="8", from_rework="on"))
    assert Sorted.objects.filter(from_rework=True).get().scrap == 8
    assert bench.there(held.item) == (0, 0)


def test_the_list_shows_what_is_still_to_sort(held, lead) -> None:
    text = lead.get("/teal-point/nights/2026-01-14/checks/").text
    assert "8 to sort" in text
