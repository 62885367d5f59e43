"""What changed since the revision before: on the page of a draft and of one in force."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

from inventory.measures.lengths import inches
from inventory.places.models import Shop
from tests.factories import TODAY
from tests.workshops.stations.geometry.sheets import CYLINDER, STEM
from tests.workshops.stations.sheet_rows import keep_sheet
from tests.workshops.stations.views.conftest import ClientOf, url
from workshops.access.models import User
from workshops.stations.models import BuildSheet, Part

Status = BuildSheet.Status
HOLES = (STEM.holes[0], replace(STEM.holes[1], from_end_um=inches("11 1/2")), STEM.holes[2])
MOVED = replace(STEM, holes=HOLES)


def next_one(shop: Shop, **fields: Any) -> BuildSheet:
    """Revision D, whose stem has a hole elsewhere."""
    Part.objects.filter(shop=shop, item__slug="stem").update(
        holes=[{"from_end_um": hole.from_end_um, "diameter_um": hole.diameter_um,
                "is_pin": True, "name": "pin"} for hole in HOLES]
    )  # fmt: skip
    parts = tuple(MOVED if part.item == "stem" else part for part in CYLINDER.parts)
    return keep_sheet(shop, replace(CYLINDER, revision="D", parts=parts), **fields)


def page_of(row: BuildSheet, user: User, client_of: ClientOf) -> str:
    return client_of(user).get(url(row)).content.decode()


def test_a_draft_is_drawn_over_the_one_in_force(
    shop: Shop, in_force: BuildSheet, volunteer: User, client_of: ClientOf
):
    page = page_of(next_one(shop), volunteer, client_of)
    assert "What changed since rev C?" in page
    assert "Stem, rev D over rev C" in page
    assert "hole 7/16 in at 11 1/2 in instead of at 11 in" in page


def test_one_in_force_is_drawn_over_the_one_it_took_the_place_of(
    shop: Shop, in_force: BuildSheet, volunteer: User, client_of: ClientOf
):
    old = Status.SUPERSEDED
    BuildSheet.objects.filter(pk=in_force.pk).update(status=old)
    oldest = {"status": old, "in_force_from": date(2020, 1, 8), "drawn": CYLINDER.to_json()}
    keep_sheet(shop, replace(CYLINDER, revision="B"), **oldest)
    # No post: something is taken off as well.
    parts = (MOVED, *CYLINDER.parts[2:])
    bare = replace(CYLINDER, parts=parts, fit=None, revision="D").to_json()
    row = next_one(shop, status=Status.IN_FORCE, in_force_from=TODAY, drawn=bare)
    page = page_of(row, volunteer, client_of)
    assert "What changed since rev C?" in page
    assert "no longer on it" in page
    assert "rev D over rev C" in page


def test_a_first_and_a_superseded_revision_compare_with_nothing(
    in_force: BuildSheet, volunteer: User, client_of: ClientOf
):
    assert "What changed since" not in page_of(in_force, volunteer, client_of)
    BuildSheet.objects.filter(pk=in_force.pk).update(status=Status.SUPERSEDED)
    assert "What changed since" not in page_of(in_force, volunteer, client_of)


def test_a_draft_just_begun_changes_nothing(
    shop: Shop, in_force: BuildSheet, volunteer: User, client_of: ClientOf
):
    same = keep_sheet(shop, replace(CYLINDER, revision="D"))
    page = page_of(same, volunteer, client_of)
    assert "a set is made as before" in page
    assert "rev D over" not in page


def test_comparing_costs_no_query(
    shop: Shop, in_force: BuildSheet, volunteer: User, client_of: ClientOf,
    django_assert_num_queries: Any,
):  # fmt: skip
    draft, client = next_one(shop), client_of(volunteer)
    with django_assert_num_queries(7):
        client.get(url(draft))


def test_an_old_revision_that_cannot_be_read_leaves_the_page_whole(
    shop: Shop, in_force: BuildSheet, volunteer: User, client_of: ClientOf
):
    BuildSheet.objects.filter(pk=in_force.pk).update(drawn={"name": "half a sheet"})
    page = page_of(next_one(shop), volunteer, client_of)
    assert "What changed since" not in page
    assert "Stem" in page
