"""The four statements a posting is made of, written out.

The same in the ORM's own words takes three times as long, most of it spent on building
the words anew. Values go through Django's fields, so both databases get what they keep.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from decimal import Decimal
from functools import cache
from typing import Any, Self
from uuid import UUID

from django.db import DEFAULT_DB_ALIAS, connections

from inventory.ledger.models import DECIMALS, DIGITS, Balance, Entry, Line

# item, place, condition, length
Spot = tuple[int, int, str, int]

Row = tuple[Any, ...]

CLIENT_KEY = Entry._meta.get_field("client_key")
ENTRY_FIELDS = [field for field in Entry._meta.concrete_fields if not field.primary_key]
ENTRY = tuple(field.column for field in ENTRY_FIELDS)
LINE = ("entry_id", "item_id", "account", "place_id", "condition", "length_um", "quantity")
SPOT = ("item_id", "place_id", "condition", "length_um")
_SPOT = ", ".join(SPOT)
FIND_ENTRY = "SELECT id FROM ledger_entry WHERE shop_id = %s AND client_key = %s"
ROWS = 500  # to a statement: SQLite takes some 32,000 values in one


class Statements:
    """The statements of one posting or of many, on one cursor; used as a context."""

    def __init__(self) -> None:
        # Looked up once: Django's connection is a stand-in that asks for the thread each time.
        self._database = connections[DEFAULT_DB_ALIAS]
        self._cursor = self._database.cursor()
        self._kept = self._database.ops.adapt_decimalfield_value

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_error: object) -> None:
        self._cursor.close()

    def entry_with(self, shop_id: int, client_key: UUID) -> int | None:
        """The number of the entry written under that key, or ``None``."""
        key = CLIENT_KEY.get_db_prep_value(client_key, self._database)
        self._cursor.execute(FIND_ENTRY, [shop_id, key])
        found = self._cursor.fetchone()
        return found[0] if found else None

    def write_entry(self, entry: Entry) -> None:
        """Write the entry, which learns its number."""
        values = [
            field.get_db_prep_save(getattr(entry, field.attname), self._database)
            for field in ENTRY_FIELDS
        ]
        self._cursor.execute(f"{_insert(Entry, ENTRY, 1)} RETURNING id", values)
        entry.pk = self._cursor.fetchone()[0]
        # What the ORM says of a row that is kept.
        entry._state.adding, entry._state.db = False, self._database.alias

    def write_lines(self, rows: Sequence[Row]) -> None:
        """Write lines, each a tuple in the order of ``LINE``."""
        for part in _parts(rows):
            self._cursor.execute(_insert(Line, LINE, len(part)), self._values(part))

    def quantities_at(self, spots: Collection[Spot]) -> dict[Spot, Decimal]:
        """What the balances of the spots say; a spot without a balance is left out."""
        found: dict[Spot, Decimal] = {}
        for part in _parts(tuple(spots)):
            values = [value for spot in part for value in spot]
            self._cursor.execute(_find_balances(len(part)), values)
            for item, place, condition, length_um, quantity in self._cursor.fetchall():
                # SQLite hands out a float; its shortest spelling is what was written.
                found[item, place, condition, length_um] = Decimal(str(quantity))
        return found

    def set_quantities(self, quantities: Mapping[Spot, Decimal]) -> None:
        """Let the balances say this; those that were not there are made."""
        for part in _parts([(*spot, quantity) for spot, quantity in quantities.items()]):
            self._cursor.execute(
                f"{_insert(Balance, (*SPOT, 'quantity'), len(part))} "
                f"ON CONFLICT ({_SPOT}) DO UPDATE SET quantity = excluded.quantity",
                self._values(part),
            )

    def _values(self, rows: Sequence[Row]) -> list[Any]:
        """The values of the rows, one after the other; the last of each is a quantity."""
        return [
            value for row in rows for value in (*row[:-1], self._kept(row[-1], DIGITS, DECIMALS))
        ]


@cache
def _insert(model: type[Entry | Line | Balance], columns: tuple[str, ...], rows: int) -> str:
    values = f"({', '.join(['%s'] * len(columns))})"
    table = model._meta.db_table
    return f"INSERT INTO {table} ({', '.join(columns)}) VALUES {', '.join([values] * rows)}"


@cache
def _find_balances(rows: int) -> str:
    # A condition a spot: SQLite looks each up in the index, but goes through the whole table
    # for "(item_id, …) IN (VALUES …)".
    one = f"({' AND '.join(f'{column} = %s' for column in SPOT)})"
    wanted = " OR ".join([one] * rows)
    return f"SELECT {_SPOT}, quantity FROM ledger_balance WHERE {wanted}"


def _parts(rows: Sequence[Any]) -> Iterator[Sequence[Any]]:
    return (rows[start : start + ROWS] for start in range(0, len(rows), ROWS))
