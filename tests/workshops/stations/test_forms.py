"""The forms of stations, parts and drafts."""

from __future__ import annotations

import pytest

from inventory.materials.models import Item
from inventory.measures.lengths import Units, inches
from inventory.places.models import Shop
from tests.factories import make_item, make_part, make_room, make_station
from workshops.stations.forms import StationForm, WordsField
from workshops.stations.part_forms import PartForm
from workshops.stations.sheet_forms import FitForm, LegsForm, RollForm

PARTS = [("stem", "Stem"), ("post", "Post")]


@pytest.mark.parametrize(
    ("typed", "words"),
    [("eyes, ears", ["eyes", "ears"]), (" eyes ,, ", ["eyes"]), ("", [])],
)
def test_words_are_typed_with_commas_between(typed: str, words: list[str]):
    assert WordsField(required=False).clean(typed) == words
    assert WordsField().prepare_value(words) == ", ".join(words)


def test_a_station_is_put_in_a_room_of_its_shop_and_builds_on_others(shop: Shop, other_shop: Shop):
    station, room = make_station(shop), make_room(shop)
    other = make_station(shop, room=room)
    make_room(other_shop)
    form = StationForm(shop=shop, instance=station)
    assert set(form.fields["room"].queryset) == {room, station.room}
    assert set(form.fields["prerequisites"].queryset) == {other}


def test_a_part_is_cut_from_metal_and_is_an_item_no_other_part_is(shop: Shop):
    free, stick = make_item(shop), make_item(shop, kind=Item.Kind.METAL)
    make_item(shop, kind=Item.Kind.FILL)
    taken = make_part(shop)
    form = PartForm(shop=shop, part=None)
    assert set(form.fields["item"].queryset) == {free}
    assert set(form.fields["stock"].queryset) == {stick, taken.stock}
    assert taken.item in PartForm(shop=shop, part=taken).fields["item"].queryset


def test_a_group_is_whole_or_none():
    empty = RollForm({}, units=Units.INCH)
    assert empty.is_valid()
    assert empty.plain() is None
    half = RollForm({"ring_um": "35"}, units=Units.INCH)
    assert not half.is_valid()
    assert set(half.errors) == set(half.fields) - RollForm.may_miss - {"ring_um"}


def test_a_fit_without_a_play_asks_for_none():
    sent = {"inner": "stem", "outer": "post", "pin_um": "3/8"}
    form = FitForm(sent, units=Units.INCH, parts=PARTS)
    assert form.is_valid()
    assert form.plain() == {
        "inner": "stem", "outer": "post", "pin_um": inches("3/8"), "clearance_um": 0,
    }  # fmt: skip


def test_a_fit_names_parts_of_the_sheet():
    form = FitForm({"inner": "rope", "outer": "post", "pin_um": "1"}, units=Units.INCH, parts=PARTS)
    assert "inner" in form.errors


@pytest.mark.parametrize(
    ("count", "lean", "is_valid"), [(3, 20, True), (2, 20, False), (3, 70, False)]
)
def test_a_stand_has_three_legs_that_lean_a_little(count: int, lean: int, is_valid: bool):
    sent = {"part": "post", "count": count, "lean_deg": lean}
    assert LegsForm(sent, units=Units.INCH, parts=PARTS).is_valid() is is_valid
