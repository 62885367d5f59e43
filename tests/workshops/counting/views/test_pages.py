"""The record, mending, sheets and tablets as pages."""

from __future__ import annotations

import re

from django.test import Client

from inventory.ledger.queries import balance_of
from workshops.counting.models import Mending, PaperLine, Tablet


def shown(client: Client, url: str) -> str:
    return client.get(url).content.decode()


def test_the_page_is_small_and_offers_a_script(scene, lead, page) -> None:
    answer = lead.get(page("tally"))
    assert len(answer.content) < 60_000
    assert b"counting/tally.js" in answer.content
    assert "X-Keep-Offline" in answer.headers


def test_mending_by_the_form_shows_both_in_the_record(scene, lead, page) -> None:
    drill, weld = scene.operations["drill"], scene.operations["weld"]
    key = re.search(r'client_key" value="([^"]+)', shown(lead, page("mend")))
    lead.post(
        page("tally"), {"operation": drill.pk, "good": 60, "client_key": key[1] if key else ""}
    )
    given = {"counted_as": drill.pk, "was": weld.pk, "good": 60, "reason": "Bo counted the rack"}
    for _ in range(2):  # a double press mends once
        lead.post(page("mend"), given | {"client_key": "00000000-0000-4000-8000-000000000009"})
    record = shown(lead, page("record"))
    assert Mending.objects.count() == 1
    assert "were counted as Make Post and were Make Head" in record
    assert 'class="wb-gone">Make Post: 60 good' in record
    assert balance_of(scene.stock.head) == 60


def test_mending_more_than_was_counted_is_told(scene, lead, page) -> None:
    drill = scene.operations["drill"].pk
    given = {"counted_as": drill, "good": 1, "reason": "x"}
    answer = lead.post(page("mend"), given | {"client_key": "00000000-0000-4000-8000-000000000009"})
    assert answer.status_code == 422
    assert "no more can have been something else" in answer.content.decode()


def test_a_sheet_is_typed_in_and_decided_on_its_page(scene, lead, page) -> None:
    drill = scene.operations["drill"].pk
    answer = lead.post(page("sheets"), {"counted_by": "Bo", f"good_{drill}": "12"})
    assert answer["Location"] == page("sheet", 1)
    line = PaperLine.objects.get()
    assert lead.post(page("sheet", 1), {}).status_code == 422
    given = {f"line-{line.pk}-decision": "more", f"line-{line.pk}-word": "Bo"}
    assert lead.post(page("sheet", 1), given).status_code == 302
    assert "pieces that no tablet counted" in shown(lead, page("sheet", 1))
    assert balance_of(scene.stock.post) == 12


def test_a_decision_without_a_word_says_what_is_missing(scene, lead, page) -> None:
    lead.post(page("sheets"), {f"good_{scene.operations['drill'].pk}": "12"})
    given = {f"line-{PaperLine.objects.get().pk}-decision": "more"}
    answer = lead.post(page("sheet", 1), given)
    assert "say why in a word or two" in answer.content.decode()


def test_a_lost_tablet_says_what_it_lost_and_offers_to_count_again(
    scene, lead, page, tablet
) -> None:
    blue = tablet("blue tablet")
    for _ in range(4):
        blue.tap(scene.operations["drill"].pk, good=1)
    blue.post(blue.batch(blue.taps[:1]))
    assert "It shared up to tap 1; it had told us of 4" in shown(lead, page("tablets"))
    lead.post(page("lose", Tablet.objects.get().pk), {"words": "fell in the brine"})
    told = shown(lead, page("tablets"))
    assert "at most 3 taps that it told of" in told
    assert "at Drill." in told
    assert "fell in the brine" in told
    assert "?note=counted%20again%2C%20lost%3A%20blue%20tablet" in told


def test_a_lost_tablet_that_speaks_again_is_counted(scene, lead, page, tablet) -> None:
    blue = tablet("blue tablet")
    blue.share()
    lead.post(page("lose", Tablet.objects.get().pk), {"words": "gone"})
    blue.tap(scene.operations["drill"].pk, good=1)
    blue.share()
    assert balance_of(scene.stock.post) == 1


def test_a_tap_that_is_not_in_the_book_is_shown_with_its_reason(scene, lead, page, tablet) -> None:
    bench = tablet("bench tablet")
    bench.tap(999_999, good=3)
    bench.share()
    assert "1 tap came in and could not go into the book" in shown(lead, page("tally"))
    assert "not one of this shop any more" in shown(lead, page("record"))


def test_the_record_takes_as_many_queries_for_twice_the_work(
    scene, lead, page, tablet, django_assert_max_num_queries
) -> None:
    for name in ("bench tablet", "door tablet"):
        found = tablet(name)
        for operation in scene.operations.values():
            found.tap(operation.pk, good=1)
        found.share()
    with django_assert_max_num_queries(12):
        lead.get(page("record"))
