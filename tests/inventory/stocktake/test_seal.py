"""What was posted of a stocktake stays, past the site's own code as well."""

from __future__ import annotations

import pytest
from django.core.management import call_command
from django.db import IntegrityError, connection, transaction

from inventory.stocktake.models import CountLine, CountSheet
from tests.inventory.stocktake.conftest import NINE, Scene, count, post

STATEMENTS = (
    "UPDATE stocktake_countline SET agreed = 9",
    "UPDATE stocktake_countline SET words = 'another story'",
    "DELETE FROM stocktake_countline",
    "UPDATE stocktake_countsheet SET posted_at = NULL",
    "DELETE FROM stocktake_countsheet",
    "UPDATE stocktake_look SET counter = 'Somebody'",
    "DELETE FROM stocktake_look",
)


def posted(scene: Scene) -> CountSheet:
    sheet = scene.sheet()
    for turn in (1, 2):
        count(sheet, turn, {scene.rings: 28, scene.straw: 8}, turn)
    post(sheet)
    return sheet


def refused(statement: str) -> None:
    with (
        pytest.raises(IntegrityError, match="append-only"),
        transaction.atomic(),
        connection.cursor() as cursor,
    ):
        cursor.execute(statement)


@pytest.mark.parametrize("statement", STATEMENTS)
def test_a_posted_count_is_neither_changed_nor_deleted(scene: Scene, statement: str) -> None:
    posted(scene)
    refused(statement)


def test_nothing_is_added_to_a_posted_sheet(scene: Scene) -> None:
    sheet = posted(scene)
    with pytest.raises(IntegrityError, match="append-only"), transaction.atomic():
        CountLine.objects.create(sheet=sheet, item=scene.tube, first=1, first_at=NINE)


def test_a_sheet_that_is_not_posted_may_be_counted_on(scene: Scene) -> None:
    posted(scene)
    other = scene.open(scene.rack).sheets.get()
    assert CountLine.objects.filter(sheet=other).update(words="two are bent") == 1
    assert other.lines.all().delete()[0] == 1


@pytest.mark.django_db(transaction=True)
def test_flush_empties_the_counts_and_seals_them_again(scene: Scene) -> None:
    posted(scene)
    call_command("flush", interactive=False, verbosity=0)
    assert not CountSheet.objects.exists()
    with connection.cursor() as cursor:
        cursor.execute("SELECT count(*) FROM sqlite_master WHERE name LIKE 'stocktake_%_no_%'")
        assert cursor.fetchone() == (10,)
