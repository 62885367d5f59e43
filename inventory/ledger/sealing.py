"""Seals for rows that other slices write once: readings, posted counts.

A seal is a list of guarded tables. Its triggers stand on SQLite and on PostgreSQL, so that
neither the admin nor a person at the database's own prompt rewrites what was written down.
A migration that makes SQLite build such a table anew must close the seal again.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from django.db.backends.base.base import BaseDatabaseWrapper

ALWAYS = "TRUE"


@dataclass(frozen=True, slots=True)
class Guarded:
    """A table, and which of its rows stand: SQL in which ``{row}`` is the row.

    ``is_full``: no row is added beside those that stand either.
    """

    table: str
    stands: str = ALWAYS
    is_full: bool = False

    @property
    def verbs(self) -> tuple[str, ...]:
        """What is refused."""
        return ("UPDATE", "DELETE", "INSERT") if self.is_full else ("UPDATE", "DELETE")

    def condition(self, verb: str) -> str:
        """When it is refused; what is added is looked at as it would be."""
        return self.stands.format(row="NEW" if verb == "INSERT" else "OLD")


@dataclass(frozen=True, slots=True)
class Seal:
    """Guarded tables, and what the database says to whoever tries."""

    why: str
    tables: tuple[Guarded, ...]

    def close(self, database: BaseDatabaseWrapper) -> None:
        """Put the triggers on."""
        with database.cursor() as cursor:
            for name, guarded, verb in self._triggers():
                for statement in _closing(database.vendor, name, guarded, verb, self.why):
                    cursor.execute(statement)

    def open_up(self, database: BaseDatabaseWrapper) -> None:
        """Take the triggers off."""
        with database.cursor() as cursor:
            for name, guarded, _ in self._triggers():
                on = f" ON {guarded.table}" if database.vendor == "postgresql" else ""
                cursor.execute(f"DROP TRIGGER IF EXISTS {name}{on}")

    @contextmanager
    def unsealed(self, database: BaseDatabaseWrapper) -> Iterator[None]:
        """The tables without the seal, closed again whatever happens; for emptying them."""
        self.open_up(database)
        try:
            yield
        finally:
            self.close(database)

    def _triggers(self) -> Iterator[tuple[str, Guarded, str]]:
        for guarded in self.tables:
            for verb in guarded.verbs:
                yield f"{guarded.table}_no_{verb.lower()}", guarded, verb


def _closing(vendor: str, name: str, guarded: Guarded, verb: str, why: str) -> Iterator[str]:
    condition = guarded.condition(verb)
    head = f"CREATE TRIGGER {name} BEFORE {verb} ON {guarded.table} FOR EACH ROW"
    if vendor != "postgresql":
        yield f"{head} BEGIN SELECT RAISE(ABORT, '{why}') WHERE {condition}; END"
        return
    # A function each: PostgreSQL takes no question to another table in a trigger's WHEN.
    row = "OLD" if verb == "DELETE" else "NEW"
    yield (
        f"CREATE OR REPLACE FUNCTION {name}() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN "
        f"IF {condition} THEN RAISE EXCEPTION '{why}' "
        f"USING ERRCODE = 'integrity_constraint_violation'; END IF; RETURN {row}; END $$"
    )
    # TRUNCATE passes by row triggers, which is how PostgreSQL empties the tables.
    yield f"{head} EXECUTE FUNCTION {name}()"
