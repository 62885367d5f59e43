"""The blank incident sheet: one page, in the order of the page, with the first call on top."""

from __future__ import annotations

from typing import Any

import pytest
from django.urls import reverse
from django.utils import timezone

from inventory.places.models import Shop
from tests.factories import make_station
from tests.workshops.paper.reading import pages_of, squeezed
from workshops.paper.actions import make_trouble_sheet
from workshops.paper.models import Paper
from workshops.paper.trouble_sheets import print_trouble_sheet

pytestmark = pytest.mark.django_db


def test_it_is_one_page_that_begins_with_the_emergency_services(shop: Shop) -> None:
    for number in range(16):
        make_station(shop, name=f"Station number {number}")
    (page,) = pages_of(print_trouble_sheet(shop, timezone.now()).data)
    words = squeezed(page)
    assert words.index("Calltheemergencyservicesfirst") < words.index("Dateandtime")
    for asked in ("nearmiss", "somebodyhurt", "Stationnumber15", "Leadwhoreopensit"):
        assert asked in words


@pytest.mark.parametrize("size", Shop.PaperSize.values)
def test_it_fits_one_page_of_either_size(shop: Shop, size: str) -> None:
    shop.paper_size = size
    assert make_trouble_sheet(shop=shop, at=timezone.now()).pages == 1


def test_a_press_makes_it_and_shows_it(shop: Shop, duty_lead: Any, client_of: Any) -> None:
    answer = client_of(duty_lead).post(reverse("paper:trouble_sheet", args=[shop.slug]))
    paper = Paper.objects.get()
    assert (paper.kind, answer.status_code) == ("trouble", 302)
    assert answer.url == reverse("paper:file", args=[shop.slug, paper.pk])
