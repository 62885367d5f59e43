"""The list of build sheets and the page of one."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from inventory.measures.lengths import inches
from inventory.places.models import Shop
from tests.factories import make_part, make_sheet
from tests.workshops.stations.geometry.sheets import BOLTED, STAND
from tests.workshops.stations.sheet_rows import keep_sheet
from tests.workshops.stations.views.conftest import ClientOf, url
from workshops.access.models import User
from workshops.club.actions import set_rule
from workshops.stations.models import BuildSheet
from workshops.stations.translate import sheet_of

LIST = "/teal-point/build-sheets/"


def test_the_list_says_what_is_in_force_and_what_is_to_mend(
    shop: Shop, in_force: BuildSheet, volunteer: User, client_of: ClientOf
):
    keep_sheet(shop, BOLTED)
    page = client_of(volunteer).get(LIST).content.decode()
    assert "In force" in page
    assert "Draft" in page
    assert "NC-31 rev C, in force from 14 Jan 2026" in page


def test_an_empty_list_says_what_to_do_first(shop: Shop, volunteer: User, client_of: ClientOf):
    assert "Start a drawing" in client_of(volunteer).get(LIST).content.decode()


def test_the_page_shows_parts_drawings_heights_and_the_roll(
    in_force: BuildSheet, volunteer: User, client_of: ClientOf
):
    page = client_of(volunteer).get(url(in_force)).content.decode()
    assert page.count("<svg class") + page.count("<svg xmlns") >= 8
    for words in ("Cradle rod", "32 in", "The head", "Height 3", "litres in the wrap"):
        assert words in page


def test_a_warning_says_what_to_do(
    shop: Shop, draft: BuildSheet, volunteer: User, client_of: ClientOf
):
    set_rule(
        shop=shop, key="ring_inside_max_um", value=inches(11), decided_by="board",
        decided_on=date(2025, 9, 1), source="meeting", by=None,
    )  # fmt: skip
    page = client_of(volunteer).get(url(draft)).content.decode()
    assert "To mend" in page
    assert "limit is 11 in: close it at" in page


def test_a_sheet_that_cannot_be_drawn_still_has_a_page(
    shop: Shop, draft: BuildSheet, coordinator: User, client_of: ClientOf
):
    BuildSheet.objects.filter(pk=draft.pk).update(fit={"inner": "gone", "outer": "post-9"})
    page = client_of(coordinator).get(url(draft)).content.decode()
    assert "Nothing can be drawn yet" in page


def test_the_page_takes_as_many_queries_for_many_parts(
    shop: Shop, draft: BuildSheet, volunteer: User, client_of: ClientOf,
    django_assert_num_queries: Any,
):  # fmt: skip
    client = client_of(volunteer)
    for sheet in (draft, keep_sheet(shop, STAND)):
        with django_assert_num_queries(7):
            client.get(url(sheet))


def test_volunteers_look_and_change_nothing(
    draft: BuildSheet, volunteer: User, client_of: ClientOf
):
    client = client_of(volunteer)
    assert "Put in force" not in client.get(url(draft)).content.decode()
    for page in ("in-force/", "revise/", "supersede/", "part/", "edit/", "check/"):
        assert client.post(url(draft, page)).status_code == 403


def test_a_stranger_finds_no_sheet_here_or_through_his_own_shop(
    draft: BuildSheet, stranger: User, client_of: ClientOf
):
    assert client_of(stranger).get(url(draft)).status_code == 404
    assert client_of(stranger).get(f"/mallow-creek/build-sheets/{draft.pk}/").status_code == 404


def test_a_draft_is_put_in_force_revised_and_superseded(
    draft: BuildSheet, coordinator: User, client_of: ClientOf
):
    client = client_of(coordinator)
    client.post(url(draft, "in-force/"))
    draft.refresh_from_db()
    assert (draft.status, draft.changed_by) == (BuildSheet.Status.IN_FORCE, coordinator)
    answer = client.post(url(draft, "revise/"))
    following = BuildSheet.objects.get(revision="D")
    assert answer.url == url(following)
    client.post(url(following, "in-force/"))
    draft.refresh_from_db()
    assert draft.status == BuildSheet.Status.SUPERSEDED
    assert "do not build from this drawing" in client.get(url(draft)).content.decode()
    client.post(url(following, "supersede/"))
    following.refresh_from_db()
    assert following.status == BuildSheet.Status.SUPERSEDED


@pytest.mark.parametrize("page", ["in-force/", "supersede/", "revise/"])
def test_what_cannot_be_done_is_said_in_one_sentence(
    shop: Shop, coordinator: User, client_of: ClientOf, page: str
):
    empty = make_sheet(shop)
    answer = client_of(coordinator).post(url(empty, page), follow=True)
    assert "wb-note--error" in answer.content.decode()
    empty.refresh_from_db()
    assert empty.status == BuildSheet.Status.DRAFT


def test_parts_are_put_on_and_taken_off(
    shop: Shop, draft: BuildSheet, coordinator: User, client_of: ClientOf
):
    client, hook = client_of(coordinator), make_part(shop, name="Hook")
    client.post(url(draft, "part/"), {"part": hook.pk, "per_set": 4})
    assert draft.sheet_parts.get(part=hook).per_set == 4
    client.post(url(draft, f"part/{hook.pk}/off/"))
    assert not draft.sheet_parts.filter(part=hook).exists()
    stem = draft.parts.get(item__slug="stem")
    refused = client.post(url(draft, f"part/{stem.pk}/off/"), follow=True)
    assert "change those first" in refused.content.decode()


def test_a_new_drawing_starts_as_a_draft(
    shop: Shop, draft: BuildSheet, coordinator: User, client_of: ClientOf
):
    fields = {"name": "Stand", "drawing_number": "NC-40", "set_item": draft.set_item_id}
    client_of(coordinator).post(f"{LIST}add/", fields)
    row = BuildSheet.objects.get(drawing_number="NC-40")
    assert (row.status, row.revision) == (BuildSheet.Status.DRAFT, "A")
    assert sheet_of(row).parts == ()


def test_an_empty_drawing_does_not_boast_of_checks(
    shop: Shop, coordinator: User, client_of: ClientOf
):
    row = make_sheet(shop, status=BuildSheet.Status.DRAFT, in_force_from=None)
    browser = client_of(coordinator)
    assert "nothing was checked" in browser.get(url(row)).content.decode()
    assert "no parts yet" in browser.get("/teal-point/build-sheets/").content.decode()
