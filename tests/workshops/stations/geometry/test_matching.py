"""Which old stems go with which new posts."""

from __future__ import annotations

from dataclasses import replace

import pytest

from inventory.measures.lengths import inches
from tests.workshops.stations.geometry.sheets import CYLINDER, POST, STEM
from workshops.stations.geometry.limits import SheetLimits
from workshops.stations.geometry.matching import matching
from workshops.stations.geometry.parts import Hole, Part
from workshops.stations.geometry.sheet import Sheet

LIMITS = SheetLimits()


def wider(part: Part, more: str) -> Part:
    section = replace(part.section, outside_um=part.section.outside_um + inches(more))
    return replace(part, section=section)


def with_parts(*parts: Part) -> Sheet:
    named = {part.item: part for part in parts}
    return replace(CYLINDER, parts=tuple(named.get(p.item, p) for p in CYLINDER.parts))


def goes(new: Sheet, limits: SheetLimits = LIMITS) -> tuple[bool, bool]:
    found = matching(CYLINDER, new, limits)
    return found.old_in_new, found.new_in_old


def test_the_same_parts_go_together_both_ways() -> None:
    assert goes(CYLINDER) == (True, True)
    assert not matching(CYLINDER, CYLINDER, LIMITS).must_stay_paired


def test_both_a_size_larger_go_only_with_their_own() -> None:
    assert goes(with_parts(wider(POST, "1/2"), wider(STEM, "1/2"))) == (False, False)


def test_only_the_stem_larger_still_goes_in_the_post_that_stays() -> None:
    assert goes(with_parts(wider(STEM, "1/8"))) == (True, True)


def test_a_little_larger_both_lets_old_stems_into_new_posts_only() -> None:
    # The new stem leaves too little play in the old bore, the old one a little more in the new.
    assert goes(with_parts(wider(POST, "0.01"), wider(STEM, "0.28"))) == (True, False)


def test_a_thicker_pin_does_not_pass_the_old_holes() -> None:
    pin = replace(CYLINDER.fit, pin_um=inches("1/2"))
    holes = (Hole(inches(7), inches("9/16"), is_pin=True),)
    newer = with_parts(replace(POST, holes=holes), replace(STEM, holes=holes))
    assert goes(replace(newer, fit=pin)) == (False, False)


def test_a_pair_that_reaches_too_little_for_the_clubs_rule_is_none() -> None:
    assert goes(CYLINDER, SheetLimits(min_engaged_um=inches(40))) == (False, False)


@pytest.mark.parametrize("is_old", [True, False])
def test_a_drawing_without_a_fit_asks_for_nothing_or_leaves_the_old_alone(is_old) -> None:
    loose = replace(CYLINDER, fit=None)
    if is_old:
        assert matching(loose, CYLINDER, LIMITS) is None
    else:
        assert goes(loose) == (False, False)
