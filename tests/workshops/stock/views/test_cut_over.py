"""The drawing changes mid-batch: what lies there is listed, decided, and said on the cards."""

from __future__ import annotations

from typing import Any
from uuid import uuid4

import pytest

from inventory.ledger.queries import on_hand_of
from tests.workshops.stock.cut_over.scene import Shift, make_shift
from workshops.stations.models import BuildSheet
from workshops.stock.models import CutOver


@pytest.fixture
def shift(shop, clock) -> Shift:
    return make_shift(shop)


@pytest.fixture
def changed(shift) -> BuildSheet:
    shift.lay("post", 12)
    shift.lay("head", 7)
    return shift.other_tube()


@pytest.fixture
def send(keeper, at, changed):
    """Opens the page, fills in (use up, rework, scrap) by item, and presses the button."""

    def post(**decided: tuple[object, object, object]):
        form = keeper.get(at("cut_over", changed.pk)).context["form"]
        given: dict[str, Any] = {"key": str(uuid4())}
        for spot in form.lying:
            numbers = decided.get(spot.item.slug, (spot.quantity, "", ""))
            given |= {
                f"{name}-{spot.key}": number
                for name, number in zip(("use_up", "rework", "scrap"), numbers, strict=True)
            }
            given |= {f"seen-{spot.key}": spot.quantity, f"reason-{spot.key}": "other tube"}
        return keeper.post(at("decide_cut_over", changed.pk), given, follow=True)  # fmt: skip

    return post


def test_the_page_says_in_numbers_what_changed_and_what_lies_there(keeper, at, changed) -> None:
    page = keeper.get(at("cut_over", changed.pk)).content.decode()
    assert "2 1/2 in, wall 0.083 in instead of square tube 1 3/4 in" in page
    assert "Old “Stem” goes only with old “Post”: keep equal numbers together." in page
    assert "<strong>12</strong> Post" in page
    assert "Has Stem in it." in page


def test_the_fates_are_posted_and_shown(shift, changed, send) -> None:
    page = send(post=(7, 2, 3)).content.decode()
    assert "Decided and written in the book" in page
    assert "other tube" in page
    found = on_hand_of(shift.items["post"])
    assert (found.good, found.hold) == (7, 2)


def test_a_broken_pair_is_refused_with_the_number_and_what_was_typed_stays(send) -> None:
    answer = send(post=(10, "", 2))
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "3 of them have none that matches" in page
    assert 'value="10"' in page
    assert not CutOver.objects.exists()


def test_what_is_not_decided_is_said_beside_it(send) -> None:
    page = send(post=(4, "", "")).content.decode()
    assert "12 lie there, and 4 were given a fate" in page


def test_a_count_that_changed_is_shown_anew_and_can_be_sent_again(
    shift, changed, keeper, at, send
) -> None:
    form = keeper.get(at("cut_over", changed.pk)).context["form"]
    given = {"key": str(uuid4())}
    for spot in form.lying:
        given |= {f"use_up-{spot.key}": 7, f"seen-{spot.key}": spot.quantity}
    shift.lay("post", 1)
    answer = keeper.post(at("decide_cut_over", changed.pk), given)
    page = answer.content.decode()
    assert "look again" in page
    assert "<strong>13</strong> Post" in page
    assert 'value="13"' in page


def test_the_item_says_what_is_used_up_first_and_by_which_drawing(keeper, at, send) -> None:
    send(post=(7, 2, 3))
    page = keeper.get(at("item", "post")).content.decode()
    assert "Use up first: 7 Post by rev A" in page
    assert "rework to NC-1 rev B" in page
    assert "NC-1 rev B" in page
    assert "To be used up first" in keeper.get(at("cut_overs")).content.decode()


def test_the_drawing_leads_to_it(shop, keeper, at, changed) -> None:
    page = keeper.get(f"/{shop.slug}/build-sheets/{changed.pk}/").content.decode()
    assert at("cut_over", changed.pk) in page


def test_a_first_revision_has_nothing_to_decide(keeper, at, shift) -> None:
    page = keeper.get(at("cut_over", shift.sheet.pk)).content.decode()
    assert "there is nothing to decide" in page
    assert "No drawing has taken the place" in keeper.get(at("cut_overs")).content.decode()


def test_a_reader_sees_what_lies_there_and_decides_nothing(
    shop, reader, client_of, at, changed
) -> None:
    page = client_of(reader).get(at("cut_over", changed.pk)).content.decode()
    assert "What lies there by rev A" in page
    assert "Decide all of it" not in page


@pytest.mark.parametrize("times", [1, 2])
def test_the_page_takes_as_many_queries_whatever_lies_there(
    shift, changed, keeper, at, django_assert_max_num_queries, times
) -> None:
    for n in range(5 * times):
        shift.lay("head", 1, place=shift.yard if n % 2 else shift.rack)
    with django_assert_max_num_queries(17):
        keeper.get(at("cut_over", changed.pk))
