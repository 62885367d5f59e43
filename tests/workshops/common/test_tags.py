"""What templates say of lengths, counts and states."""

from __future__ import annotations

from decimal import Decimal

import pytest

from inventory.measures.lengths import inches
from inventory.places.models import Shop
from workshops.common.rooms import ROOMS, doors
from workshops.common.templatetags import winterbench as tags


def test_a_length_is_spelled_in_the_units_of_the_shop() -> None:
    assert tags.length_in(inches("46 5/8"), Shop(units="in")) == "46 5/8 in"
    assert tags.length_in(1_184_300, Shop(units="mm")) == "1184.3 mm"


def test_no_length_is_a_dash() -> None:
    assert tags.length_in(None, Shop()) == "–"


@pytest.mark.parametrize(
    ("quantity", "spelled"),
    [(Decimal("12.000"), "12"), (Decimal("0.250"), "0.25"), (1204, "1,204"), (None, "–"),
     (Decimal("100"), "100"), (Decimal("-3.500"), "-3.5"), (0, "0")],
)  # fmt: skip
def test_a_count_has_no_trailing_zeros(quantity: Decimal | int | None, spelled: str) -> None:
    assert tags.count(quantity) == spelled


def test_a_state_is_a_word_and_a_shape_of_its_own() -> None:
    words, shapes = zip(*tags.STATES.values(), strict=True)
    assert len(set(words)) == len(set(shapes)) == len(tags.STATES)


def test_a_state_may_say_another_word_but_keeps_its_shape() -> None:
    assert tags.state("short", "one more") == {"name": "short", "shape": "◐", "word": "one more"}


def test_an_unknown_state_is_an_error_not_a_blank() -> None:
    with pytest.raises(KeyError):
        tags.state("ajar")


def test_a_forbidden_thing_is_a_crossed_picture_and_a_word() -> None:
    assert "no gloves" in tags.wear("gloves", True)
    assert tags.wear("gloves", True).count("<circle") > tags.wear("gloves").count("<circle")


def test_the_mark_of_a_station_is_hidden_beside_its_name() -> None:
    assert 'aria-hidden="true"' in tags.mark("weld")


def test_a_label_cannot_break_out_of_its_drawing() -> None:
    drawn = tags.icon("print", '"><script>')
    assert '"><script' not in drawn
    assert "&gt;&lt;script&gt;" in drawn


def test_nobody_is_shown_a_room_he_may_not_enter() -> None:
    may = {"see_home"}
    assert {door.room.permission for door in doors("teal-point", may, "home")} <= may


def test_the_room_we_stand_in_is_marked_once() -> None:
    may = {room.permission for room in ROOMS}
    for room in ROOMS:
        assert [d.room for d in doors("teal-point", may, room.slice) if d.is_here] == [room]


@pytest.mark.parametrize(
    ("key", "spelled"), [("2026-01-04", "4 January 2026"), ("last one", "last one"), ("", "")]
)
def test_a_night_is_called_by_its_day_as_people_write_it(key: str, spelled: str) -> None:
    assert tags.night_day(key) == spelled
