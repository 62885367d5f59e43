"""The permit on one side of paper, empty or filled in, on both sizes of paper."""

from __future__ import annotations

import pytest
from django.utils import timezone

from inventory.places.models import Shop
from tests.workshops.nights.hot import open_permit
from tests.workshops.nights.scene import make_scene
from tests.workshops.paper.reading import pages_of
from workshops.paper.actions import make_permit
from workshops.paper.permit_sheets import print_permit


@pytest.mark.parametrize("is_open", [False, True])
def test_the_permit_is_one_side_and_kept(shop, clock, is_open: bool) -> None:
    scene = make_scene(shop)
    if is_open:
        open_permit(scene.night, scene.people["Cy"], scene.at("18:10"))
    for size in Shop.PaperSize.values:
        scene.night.shop.paper_size = size
        assert print_permit(scene.night, scene.at("18:20")).pages == 1
    assert make_permit(night=scene.night, at=scene.at("18:20")).pages == 1


def test_its_clock_is_the_shops_whoever_prints_it(shop, clock) -> None:
    scene = make_scene(shop)
    with timezone.override("UTC"):
        (page,) = pages_of(print_permit(scene.night, scene.at("18:20")).data)
    assert "Lastsparkby20:00" in page
