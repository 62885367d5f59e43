"""What is measured at the door against the tables by which tube and wire are sold."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from inventory.deliveries.arrivals import Measured
from inventory.measures.lengths import LengthRefused, Units, inches, read_length
from inventory.measures.steel import square_tube_pounds_per_foot, steel_wire_diameter
from tests.workshops.stock.sheets import make_drawn
from workshops.club.actions import set_rule
from workshops.stock.judging import Says, bench_of, judge

pytestmark = pytest.mark.django_db


def said_of(item, **measured):
    """What is said of each part cut from the item, by its name."""
    verdicts = judge(item, Measured(**measured), bench_of(item.shop)).verdicts
    return {each.part: each.says for each in verdicts}


def wire_rule(drawn, least):
    set_rule(
        shop=drawn.sheet.shop, key="wire_min_um", value=inches(least), decided_by="Committee",
        decided_on=date(2025, 10, 1), source="the agency", by=None,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("wall", "says"),
    [
        ("0.065", Says.NOT),  # 46 in a hundred thinner than the 0.120 drawn
        ("0.083", Says.NOT),
        ("0.120", Says.FITS),
        ("0.125", Says.FITS),
    ],
)
def test_listed_walls_of_two_inch_tube_are_judged_as_measured(shop, wall, says):
    """The walls of trade tables of square tube (*from memory*; 0.125 from aciercentury-vente.com).

    Stem 1 1/2 in, play 1/8 in: any wall up to 3/16 in leaves it, thin ones fail the ten in a
    hundred of the rule.
    """
    drawn = make_drawn(shop)
    assert said_of(drawn.post_tube, wall_um=inches(wall)) == {"Post": says}


@pytest.mark.parametrize("percent", [-10, 10])
def test_a_stem_drawn_with_room_slides_at_either_end_of_the_wall_tolerance(shop, percent):
    """Tube wall within ten in a hundred of the list (*common practice, no source*)."""
    drawn = make_drawn(shop)
    wall = drawn.post_tube.wall_um * (100 + percent) // 100
    assert said_of(drawn.post_tube, wall_um=wall) == {"Post": Says.FITS}


@pytest.mark.parametrize(
    ("wall", "listed", "says"),
    [
        ("0.065", "1.270", Says.NOT),  # 22 in a hundred thinner than the 0.083 drawn
        ("0.083", "1.601", Says.FITS),
        ("0.120", "2.254", Says.FITS),  # heavier than drawn, and no harm to a cross-bar
    ],
)
def test_a_stick_weighed_and_a_wall_measured_tell_the_same_tube(shop, wall, listed, says):
    """Square tube 1 1/2 in, 4 t (b - t) x 3.4028 lb/ft (*from memory*)."""
    drawn = make_drawn(shop)
    outside = drawn.stem_tube.outside_um
    assert round(square_tube_pounds_per_foot(outside, inches(wall)), 3) == Decimal(listed)
    assert said_of(drawn.stem_tube, wall_um=inches(wall))["Bar"] == says


@pytest.mark.parametrize(
    ("system", "measured", "says"),
    [
        ("steel wire (Washburn & Moen)", "0.0800", Says.FITS),
        ("British standard wire", "0.0800", Says.FITS),
        ("American wire, for copper", "0.0641", Says.NOT),
    ],
)
def test_number_14_passes_or_fails_by_the_system_it_was_sold_in(shop, system, measured, says):
    """No. 14 is .0800, .0800 and .0641 in (jgmes.com; themodelmakersresource.co.uk)."""
    drawn = make_drawn(shop)
    wire_rule(drawn, "0.078")
    assert said_of(drawn.wire, wire_um=inches(measured)) == {"Wire piece": says}


@pytest.mark.parametrize(
    ("measured", "says"), [("0.0625", Says.FITS), ("0.0640", Says.FITS), ("0.0508", Says.NOT)]
)
def test_number_16_is_three_thicknesses_and_only_the_measured_one_counts(shop, measured, says):
    """No. 16: W&M .0625, British .0640, American .0508 in (the same tables)."""
    drawn = make_drawn(shop)
    wire_rule(drawn, "0.0625")
    assert said_of(drawn.wire, wire_um=inches(measured)) == {"Wire piece": says}


@pytest.mark.parametrize(
    ("gauge", "says"),
    [(gauge, Says.FITS) for gauge in ("9", "10", "11", "12", "12.5", "13", "14")]
    + [(gauge, Says.NOT) for gauge in ("15", "16", "17", "18")],
)
def test_under_a_rule_of_08_in_the_table_is_cut_between_14_and_15(shop, gauge, says):
    """Steel wire gauge, Washburn & Moen: 14 is .0800 in, 15 .0720 (jgmes.com; sizes.com)."""
    drawn = make_drawn(shop)
    wire_rule(drawn, "0.0800")
    assert said_of(drawn.wire, wire_um=steel_wire_diameter(gauge)) == {"Wire piece": says}


@pytest.mark.parametrize("typed", ["14 ga", "14 gauge", "No. 14", "#14", "14 SWG", "14 AWG"])
def test_a_gauge_number_is_no_size(typed):
    """One number is three diameters in three systems (the same tables): it is never read."""
    with pytest.raises(LengthRefused):
        read_length(typed, Units.INCH)
