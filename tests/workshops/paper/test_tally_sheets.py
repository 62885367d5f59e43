"""The tally sheet: numbered, with a box for every operation of tonight."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.test import Client
from django.utils import timezone

from tests.workshops.nights.scene import make_scene
from workshops.access.models import User
from workshops.counting.models import PaperSheet
from workshops.paper import tally_sheets
from workshops.paper.models import Paper


@pytest.fixture
def page(shop: object, clock: object, monkeypatch: pytest.MonkeyPatch) -> Callable[[], str]:
    """The page as it goes to the printer's layout, without laying it out."""
    scene, seen = make_scene(shop), []  # type: ignore[arg-type]
    monkeypatch.setattr(tally_sheets, "pdf_of_sheets", lambda pages, css: seen.extend(pages))
    sheet = PaperSheet.objects.create(shop=scene.shop, night=scene.night, number=42)

    def printed() -> str:
        tally_sheets.print_tally_sheet(sheet, timezone.now())
        return str(seen[-1][0])

    return printed


def test_it_has_its_number_and_every_operation(page: Callable[[], str]) -> None:
    html = page()
    assert "SHEET 42" in html
    assert [name for name in ("Make Post", "Make Head", "Make Set") if name not in html] == []
    assert html.count(">100<") == html.count('class="name"') == 4


def test_each_print_has_a_number_of_its_own(
    shop: object, clock: object, coordinator: User, client_of: Callable[[User], Client]
) -> None:
    night = make_scene(shop).night  # type: ignore[arg-type]
    client = client_of(coordinator)
    for _ in range(2):
        client.post("/teal-point/paper/tally-sheet/", {"night": night.pk})
    assert sorted(PaperSheet.objects.values_list("number", flat=True)) == [1, 2]
    assert Paper.objects.filter(kind=Paper.Kind.TALLY, pages=1).count() == 2
