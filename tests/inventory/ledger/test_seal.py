"""What was posted cannot be changed or deleted, not even past the site's own code."""

from __future__ import annotations

import contextlib

import pytest
from django.core.management import call_command
from django.db import IntegrityError, connection, transaction
from django.db.models import ProtectedError

from inventory.ledger import seal
from inventory.ledger.models import Entry, Line
from tests.inventory.ledger.conftest import Bench

pytestmark = pytest.mark.django_db


def refused(statement: str) -> None:
    """The database refuses it, and what was posted is as it was."""
    before = list(Entry.objects.values()), list(Line.objects.values())
    with (
        pytest.raises(IntegrityError, match="append-only"),
        transaction.atomic(),
        connection.cursor() as cursor,
    ):
        cursor.execute(statement)
    assert before == (list(Entry.objects.values()), list(Line.objects.values()))


@pytest.mark.parametrize("model", [Entry, Line])
def test_a_posted_row_cannot_be_deleted(bench: Bench, model: type[Entry] | type[Line]) -> None:
    bench.bring(bench.bolt, 1)
    with pytest.raises(IntegrityError, match="append-only"), transaction.atomic():
        model.objects.all()._raw_delete("default")
    assert model.objects.exists()


def test_a_posted_line_cannot_be_changed(bench: Bench) -> None:
    bench.bring(bench.bolt, 1)
    with pytest.raises(IntegrityError, match="append-only"), transaction.atomic():
        Line.objects.update(quantity=7)


def test_a_posted_entry_cannot_be_changed(bench: Bench) -> None:
    entry = bench.bring(bench.bolt, 1)
    entry.reason = "another story"
    with pytest.raises(IntegrityError, match="append-only"), transaction.atomic():
        entry.save()


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE ledger_line SET quantity = 9",
        "UPDATE ledger_entry SET reason = 'another story'",
        "DELETE FROM ledger_line",
        "DELETE FROM ledger_entry",
    ],
)
def test_a_person_at_the_databases_prompt_is_refused_too(bench: Bench, statement: str) -> None:
    bench.bring(bench.bolt, 1)
    refused(statement)


@pytest.mark.skipif(connection.vendor != "sqlite", reason="only SQLite has REPLACE")
@pytest.mark.parametrize(
    "statement",
    [
        "REPLACE INTO ledger_line SELECT * FROM ledger_line",
        "REPLACE INTO ledger_entry SELECT * FROM ledger_entry",
        "INSERT OR REPLACE INTO ledger_entry (shop_id, client_key, kind, at, recorded_at, reason, "
        "paper, night_key) SELECT shop_id, client_key, kind, at, recorded_at, 'another story', "
        "paper, night_key FROM ledger_entry",
    ],
)
def test_what_was_posted_is_not_replaced_either(bench: Bench, statement: str) -> None:
    bench.bring(bench.bolt, 1)
    refused(statement)


def test_a_list_of_entries_is_not_deleted_by_the_orm(bench: Bench) -> None:
    bench.bring(bench.bolt, 1)
    bench.make(1)
    with pytest.raises((ProtectedError, IntegrityError)), transaction.atomic():
        Entry.objects.all().delete()
    with pytest.raises(IntegrityError, match="append-only"), transaction.atomic():
        Line.objects.all().delete()


def test_the_seal_closes_again_when_breaking_it_went_wrong() -> None:
    with contextlib.suppress(RuntimeError), seal.unsealed(connection):
        assert not seal.is_closed(connection)
        raise RuntimeError
    assert seal.is_closed(connection)


@pytest.mark.django_db(transaction=True)
def test_flush_empties_the_book_and_seals_it_again(bench: Bench) -> None:
    bench.bring(bench.bolt, 1)
    call_command("flush", interactive=False, verbosity=0)
    assert not Line.objects.exists()
    assert seal.is_closed(connection)
