"""Files for a jig maker: fetched from the page of a build sheet."""

from __future__ import annotations

import pytest

from inventory.places.models import Shop
from tests.workshops.stations.drawing.on_paper import pages, segments_mm, size_mm
from tests.workshops.stations.drawing.read_dxf import on_layer, opened, words
from tests.workshops.stations.views.conftest import ClientOf, url
from workshops.access.models import User
from workshops.common.pdf import PaperRefused
from workshops.stations.models import BuildSheet
from workshops.stations.views import jigs


def test_a_part_is_fetched_as_dxf_from_the_links_of_its_sheet(
    in_force: BuildSheet, volunteer: User, client_of: ClientOf
):
    address, client = url(in_force, "parts/stem/dxf/"), client_of(volunteer)
    assert f'href="{address}"' in client.get(url(in_force)).content.decode()
    answer = client.get(address)
    assert answer["Content-Type"] == "image/vnd.dxf"
    assert 'filename="nc-31-rev-c-stem.dxf"' in answer["Content-Disposition"]
    doc = opened(answer.content)
    assert len(on_layer(doc, "holes")) == 3
    assert "Drawing NC-31 rev C, in force from 14 Jan 2026" in words(doc)


@pytest.mark.parametrize("page", ["dxf", "template/dxf"])
def test_a_superseded_revision_says_so_in_the_file_and_in_its_name(
    in_force: BuildSheet, volunteer: User, client_of: ClientOf, page: str
):
    BuildSheet.objects.filter(pk=in_force.pk).update(status=BuildSheet.Status.SUPERSEDED)
    answer = client_of(volunteer).get(url(in_force, f"parts/cradle-rod/{page}/"))
    assert words(opened(answer.content))[0] == "SUPERSEDED: do not build from this drawing"
    assert "superseded" in answer["Content-Disposition"]


def test_a_draft_is_called_a_draft(draft: BuildSheet, volunteer: User, client_of: ClientOf):
    answer = client_of(volunteer).get(url(draft, "parts/stem/dxf/"))
    assert words(opened(answer.content))[0] == "DRAFT: not to be built from"


@pytest.mark.parametrize(
    "page", ["parts/nothing/dxf/", "parts/stem/template/dxf/", "parts/stem/template/"]
)
def test_what_is_not_drawn_is_not_found(
    in_force: BuildSheet, volunteer: User, client_of: ClientOf, page: str
):
    assert client_of(volunteer).get(url(in_force, page)).status_code == 404


def test_a_sheet_that_cannot_be_drawn_has_no_files(
    shop: Shop, draft: BuildSheet, volunteer: User, client_of: ClientOf
):
    BuildSheet.objects.filter(pk=draft.pk).update(fit={"inner": "gone", "outer": "post-9"})
    assert client_of(volunteer).get(url(draft, "parts/stem/dxf/")).status_code == 404


@pytest.mark.parametrize("size", Shop.PaperSize)
def test_a_bend_template_is_printed_on_the_shops_paper(
    shop: Shop, in_force: BuildSheet, volunteer: User, client_of: ClientOf, size: str
):
    Shop.objects.filter(pk=shop.pk).update(paper_size=size)
    address, client = url(in_force, "parts/cradle-rod/template/"), client_of(volunteer)
    assert f'href="{address}"' in client.get(url(in_force)).content.decode()
    answer = client.get(address)
    assert answer["Content-Type"] == "application/pdf"
    wide = {"letter": 215.9, "a4": 210.0}[size]
    made = pages(answer.content)
    assert len(made) > 1
    for page in made:
        assert wide == pytest.approx(min(size_mm(page)), abs=0.1)
        assert any(
            abs(y2 - y1) == pytest.approx(100, abs=0.2) for _, y1, _, y2 in segments_mm(page)
        )
        assert "inforcefrom14Jan2026" in page.extract_text().replace(" ", "")


def test_where_paper_cannot_be_made_the_page_says_what_to_install(
    in_force: BuildSheet, volunteer: User, client_of: ClientOf, monkeypatch: pytest.MonkeyPatch
):
    def refuse(*_: object) -> bytes:
        raise PaperRefused("Install what is missing")

    monkeypatch.setattr(jigs, "print_template", refuse)
    answer = client_of(volunteer).get(url(in_force, "parts/cradle-rod/template/"), follow=True)
    assert "Install what is missing" in answer.content.decode()
