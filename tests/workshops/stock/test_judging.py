"""Go or no-go at the door, each number worked out by hand."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from inventory.deliveries.arrivals import Measured
from inventory.materials.models import Item
from inventory.measures.lengths import inches
from inventory.places.models import Shop
from tests.factories import make_item
from tests.workshops.stock.sheets import Drawn, make_drawn
from workshops.club.actions import set_rule
from workshops.stations.models import BuildSheet
from workshops.stock.judging import Says, Verdict, bench_of, judge


@pytest.fixture
def drawn(shop: Shop) -> Drawn:
    return make_drawn(shop)


def rule(shop: Shop, key: str, value: Any) -> None:
    set_rule(
        shop=shop, key=key, value=value, decided_by="Committee", decided_on=date(2026, 1, 1),
        source="a meeting", by=None,
    )  # fmt: skip


def verdicts(item: Item, **measured: Any) -> tuple[Verdict, ...]:
    sizes = {f"{name}_um": inches(size) for name, size in measured.items() if name != "finish"}
    finish = measured.get("finish", "")
    return judge(item, Measured(finish=finish, **sizes), bench_of(item.shop)).verdicts


def only(item: Item, **measured: Any) -> tuple[str, str]:
    """What is said of the one part cut from the item, and why."""
    (verdict,) = verdicts(item, **measured)
    return verdict.says, verdict.reason


@pytest.mark.parametrize(
    ("wall", "says", "play"),
    [
        # 2 - 2 x wall - 1.5: the bore of the post less the stem.
        ("0.120", Says.FITS, "0.260"),
        ("0.180", Says.FITS, "0.140"),
        ("0.1875", Says.FITS, "0.125"),  # exactly what is asked for
        ("0.188", Says.NOT, "0.124"),
    ],
)
def test_a_post_is_judged_by_the_play_that_its_measured_wall_leaves(
    drawn: Drawn, wall: str, says: str, play: str
) -> None:
    told, reason = only(drawn.post_tube, wall=wall)
    assert (told, reason) == (says, f"Stem in Post: {play} in of play, 0.125 in wanted")


def test_a_wall_that_leaves_less_bore_than_the_stem_never_slides(drawn: Drawn) -> None:
    says, reason = only(drawn.post_tube, wall="0.260")
    assert (says, reason) == (
        Says.NOT, "Stem in Post: 0.020 in too large for the bore, it never slides",
    )  # fmt: skip


def test_the_stricter_of_club_and_sheet_says_how_much_play_is_wanted(drawn: Drawn) -> None:
    rule(drawn.sheet.shop, "stem_clearance_min_um", inches("0.2"))
    says, reason = only(drawn.post_tube, wall="0.160")
    assert (says, reason) == (Says.NOT, "Stem in Post: 0.180 in of play, 0.200 in wanted")


def test_an_unmeasured_wall_is_not_taken_on_trust(drawn: Drawn) -> None:
    says, reason = only(drawn.post_tube, outside="2")
    assert says == Says.UNKNOWN
    assert "measure the wall" in reason


@pytest.mark.parametrize(
    ("wall", "says"),
    [("0.108", Says.FITS), ("0.107", Says.NOT), ("0.060", Says.NOT)],
)
def test_a_wall_thinner_than_the_rule_allows_is_refused_though_the_stem_slides(
    drawn: Drawn, wall: str, says: str
) -> None:
    # 10 in a hundred of 0.120 is 0.012.
    assert only(drawn.post_tube, wall=wall)[0] == says


def test_another_outside_is_another_size(drawn: Drawn) -> None:
    says, reason = only(drawn.post_tube, wall="0.120", outside="2 1/4")
    assert says == Says.NOT
    assert "2.250 in across and 2.000 in is drawn" in reason


def test_walls_that_meet_are_measured_again(drawn: Drawn) -> None:
    assert only(drawn.post_tube, wall="1.1") == (
        Says.NOT, "the wall as measured leaves no bore: measure again",
    )  # fmt: skip


def test_a_stem_is_judged_by_its_outside_in_a_post_that_nobody_measured(drawn: Drawn) -> None:
    found = {each.part: each for each in verdicts(drawn.stem_tube, outside="1.5", wall="0.083")}
    assert found["Stem"].reason == "Stem in Post: 0.260 in of play, 0.125 in wanted"
    assert (found["Stem"].says, found["Bar"].says) == (Says.FITS, Says.FITS)


def test_a_stem_binds_in_the_thickest_wall_that_the_rule_allows(drawn: Drawn) -> None:
    rule(drawn.sheet.shop, "wall_tolerance_percent", 49)
    BuildSheet.objects.update(fit=drawn.sheet.fit | {"clearance_um": 0})
    Item.objects.filter(pk=drawn.post_tube.pk).update(wall_um=inches("0.170"))
    found = {each.part: each for each in verdicts(drawn.stem_tube, outside="1.5", wall="0.083")}
    # 2 - 2 x 0.170 x 1.49 = 1.4934, less than the stem.
    assert found["Stem"].reason == "Stem in Post: it binds where the wall is at its thickest"


def test_a_thin_donated_tube_may_fit_one_part_and_not_another(drawn: Drawn) -> None:
    Item.objects.filter(pk=drawn.stem_tube.pk).update(wall_um=inches("0.083"))
    said = judge(drawn.stem_tube, Measured(wall_um=inches("0.083")), bench_of(drawn.sheet.shop))
    assert {each.part: each.says for each in said.verdicts} == {
        "Stem": Says.UNKNOWN, "Bar": Says.FITS,
    }  # fmt: skip
    assert said.may_be_used_for == ["Bar"]
    assert said.refused == []


@pytest.mark.parametrize(("size", "says"), [("0.375", Says.FITS), ("0.3125", Says.NOT)])
def test_a_rod_is_judged_by_its_diameter(drawn: Drawn, size: str, says: str) -> None:
    assert only(drawn.rod, outside=size)[0] == says
    assert only(drawn.rod)[0] == Says.UNKNOWN


@pytest.mark.parametrize(
    ("least", "wire", "says"),
    [
        ("0.078", "0.080", Says.FITS),
        ("0.078", "0.078", Says.FITS),
        ("0.078", "0.072", Says.NOT),
        (None, "0.047", Says.FITS),
        ("0.078", None, Says.UNKNOWN),
    ],
)
def test_wire_is_judged_by_its_thickness_and_the_clubs_rule(drawn, least, wire, says) -> None:
    rule(drawn.sheet.shop, "wire_min_um", inches(least) if least else None)
    measured = {"wire": wire} if wire else {}
    assert only(drawn.wire, **measured)[0] == says


@pytest.mark.parametrize(
    ("moisture", "says"),
    [("20", Says.FITS), ("20.1", Says.NOT), (None, Says.UNKNOWN)],
)
def test_straw_is_judged_by_its_moisture(shop: Shop, moisture, says) -> None:
    straw = make_item(shop, name="Straw", kind=Item.Kind.FILL, unit="bale")
    measured = Measured(moisture_percent=Decimal(moisture) if moisture else None)
    said = judge(straw, measured, bench_of(shop))
    assert [each.says for each in said.verdicts] == [says]
    assert ("20.1 % moist" in said.why_held) is (says == Says.NOT)


@pytest.mark.parametrize("finish", ["galvanised", "painted"])
def test_coated_metal_of_welded_parts_is_a_word_for_the_welder(drawn: Drawn, finish) -> None:
    said = judge(drawn.rod, Measured(finish=finish), bench_of(drawn.sheet.shop))
    care = [each for each in said.verdicts if each.says == Says.CARE]
    assert [each.part for each in care] == ["Cradle rod (welded)"]
    assert care[0].reason.startswith(finish)
    assert said.refused == []


def test_coated_metal_that_nobody_welds_needs_no_word(drawn: Drawn) -> None:
    assert [each.says for each in verdicts(drawn.post_tube, finish="galvanised")] == [Says.UNKNOWN]


def test_only_sheets_in_force_judge(drawn: Drawn) -> None:
    BuildSheet.objects.update(status="superseded")
    assert verdicts(drawn.post_tube, wall="0.120") == ()


def test_a_sheet_that_cannot_be_drawn_judges_nothing(drawn: Drawn) -> None:
    BuildSheet.objects.update(fit={"inner": "nobody"})
    assert verdicts(drawn.post_tube, wall="0.120") == ()


def test_equal_words_of_two_sheets_are_said_once_with_both_drawings(drawn: Drawn) -> None:
    again = BuildSheet.objects.get()
    lines = list(again.sheet_parts.all())
    again.pk, again.drawing_number = None, "TP-2"
    again.save()
    for line in lines:
        line.pk, line.sheet = None, again
        line.save()
    (verdict,) = verdicts(drawn.post_tube, wall="0.120")
    assert verdict.sheets == "TP-1 rev A, TP-2 rev A"


def test_small_parts_are_not_judged(shop: Shop) -> None:
    rings = make_item(shop, kind=Item.Kind.SMALL)
    assert judge(rings, Measured(), bench_of(shop)).verdicts == ()


def test_the_bench_takes_three_queries(drawn: Drawn, django_assert_num_queries) -> None:
    with django_assert_num_queries(3):
        bench = bench_of(drawn.sheet.shop)
        judge(drawn.post_tube, Measured(wall_um=3_000), bench)
