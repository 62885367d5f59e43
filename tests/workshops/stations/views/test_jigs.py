"""Files for a jig maker: fetched from the page of a build sheet."""

from __future__ import annotations

import pytest

from inventory.places.models import Shop
from tests.workshops.stations.drawing.read_dxf import on_layer, opened, words
from tests.workshops.stations.views.conftest import ClientOf, url
from workshops.access.models import User
from workshops.stations.models import BuildSheet


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


@pytest.mark.parametrize("page", ["parts/nothing/dxf/", "parts/stem/template/dxf/"])
def test_what_is_not_drawn_is_not_found(
    in_force: BuildSheet, volunteer: User, client_of: ClientOf, page: str
):
    assert client_of(volunteer).get(url(in_force, page)).status_code == 404


def test_a_sheet_that_cannot_be_drawn_has_no_files(
    shop: Shop, draft: BuildSheet, volunteer: User, client_of: ClientOf
):
    BuildSheet.objects.filter(pk=draft.pk).update(fit={"inner": "gone", "outer": "post-9"})
    assert client_of(volunteer).get(url(draft, "parts/stem/dxf/")).status_code == 404
