"""What was posted cannot be changed or deleted, not even past the site's own code."""

from __future__ import annotations

import contextlib

import pytest
from django.core.management import call_command
from django.db import IntegrityError, connection, transaction

from inventory.ledger import seal
from inventory.ledger.models import Entry, Line
from tests.inventory.ledger.conftest import Bench

pytestmark = pytest.mark.django_db


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


def test_a_person_at_the_databases_prompt_is_refused_too(bench: Bench) -> None:
    bench.bring(bench.bolt, 1)
    with (
        pytest.raises(IntegrityError, match="append-only"),
        transaction.atomic(),
        connection.cursor() as cursor,
    ):
        cursor.execute("UPDATE ledger_line SET quantity = 9")


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
