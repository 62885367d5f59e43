"""The four build sheets can be drawn and built as they are drawn."""

from __future__ import annotations

import pytest

from inventory.places.models import Shop
from workshops.club.queries import rules_of
from workshops.stations.geometry.fit import height_settings
from workshops.stations.geometry.volumes import fill_of, litres
from workshops.stations.models import BuildSheet
from workshops.stations.translate import sheet_from_rows, sheet_of, warnings_of

NUMBERS = ["QM-11", "QM-12", "QM-21", "QM-31"]


@pytest.fixture(params=NUMBERS)
def sheet(request: pytest.FixtureRequest, demo: Shop) -> BuildSheet:
    """Each of the sheets in turn."""
    return BuildSheet.objects.get(shop=demo, drawing_number=request.param)


def test_nothing_on_a_sheet_is_warned_about(sheet: BuildSheet) -> None:
    assert warnings_of(sheet, rules_of(sheet.shop)) == []


def test_a_sheet_is_in_force_as_its_parts_stand(sheet: BuildSheet) -> None:
    assert sheet.status == BuildSheet.Status.IN_FORCE
    assert sheet_of(sheet) == sheet_from_rows(sheet)


def test_the_recipe_takes_what_the_sheet_draws(sheet: BuildSheet) -> None:
    lines = sheet.sheet_parts.all()
    assert lines
    for line in lines:
        lengths = [part.length_um for part in _cut_from(line.part.item) if part.length_um]
        assert lengths == [line.part.length_um]


def _cut_from(item):
    recipe = item.recipes.get()
    for line in recipe.lines.all():
        yield from [line] if line.length_um else _cut_from(line.item)


def test_a_head_can_be_set_to_more_than_one_height(sheet: BuildSheet) -> None:
    drawn = sheet_of(sheet)
    assert drawn.fit
    assert len(height_settings(drawn.part(drawn.fit.inner), drawn.part(drawn.fit.outer))) >= 2


def test_the_recipe_weighs_out_the_straw_and_hay_of_the_drawing(demo: Shop) -> None:
    roll = sheet_of(BuildSheet.objects.get(shop=demo, drawing_number="QM-11")).roll
    assert roll
    assert roll.straw_g_per_litre
    assert roll.hay_g_per_litre
    fill = fill_of(roll)
    straw = litres(fill.straw_um3) * roll.straw_g_per_litre / 1000
    hay = litres(fill.hay_um3) * roll.hay_g_per_litre / 1000
    assert _taken(demo, "flax-straw") == pytest.approx(straw, abs=0.05)
    assert _taken(demo, "nest-hay") == pytest.approx(hay, abs=0.05)


def _taken(demo: Shop, slug: str) -> float:
    return float(demo.item_set.get(slug=slug).used_in.get().quantity)


def test_the_sheets_share_their_heads_and_cylinders(demo: Shop) -> None:
    sheets = BuildSheet.objects.filter(shop=demo)
    shared = set.intersection(*({part.name for part in sheet.parts.all()} for sheet in sheets))
    assert shared == {"Stem", "Cross-bar", "Cradle rod", "Wire piece"}


def test_one_of_the_heads_takes_no_welding(demo: Shop) -> None:
    welded = {row.drawing_number: len(sheet_of(row).welds()) for row in demo.buildsheet_set.all()}
    assert welded == {"QM-11": 3, "QM-12": 3, "QM-21": 4, "QM-31": 0}
