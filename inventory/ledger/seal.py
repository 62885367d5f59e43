"""The seal on the book: the database itself refuses to change or delete what was posted.

Triggers stand on the tables of entries and lines, on SQLite and on PostgreSQL, so that
neither the admin nor a person at the database's own prompt rewrites history. The one way
round is to break the seal, which ``flush`` does because it empties everything.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager

from django.db.backends.base.base import BaseDatabaseWrapper

# Each with what makes two rows the same one to the database, so that one would replace the other.
TABLES = {
    "ledger_entry": (
        "id = NEW.id",
        "shop_id = NEW.shop_id AND client_key = NEW.client_key",
        "corrects_id = NEW.corrects_id",
    ),
    "ledger_line": ("id = NEW.id",),
}
WHY = "the book is append-only: post a correction instead"

_REFUSE = f"""
CREATE OR REPLACE FUNCTION ledger_refuse() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN RAISE EXCEPTION '{WHY}' USING ERRCODE = 'integrity_constraint_violation'; END $$
"""


def close(database: BaseDatabaseWrapper) -> None:
    """Put the triggers on."""
    with database.cursor() as cursor:
        for statement in _closing(database.vendor):
            cursor.execute(statement)


def open_up(database: BaseDatabaseWrapper) -> None:
    """Take the triggers off."""
    with database.cursor() as cursor:
        for statement in _opening(database.vendor):
            cursor.execute(statement)


@contextmanager
def unsealed(database: BaseDatabaseWrapper) -> Iterator[None]:
    """The book without its seal, closed again whatever happens."""
    was_closed = is_closed(database)
    if was_closed:
        open_up(database)
    try:
        yield
    finally:
        if was_closed:
            close(database)


def is_closed(database: BaseDatabaseWrapper) -> bool:
    """Whether every trigger stands."""
    table, column = {
        "sqlite": ("sqlite_master WHERE type = 'trigger' AND", "name"),
        "postgresql": ("pg_trigger WHERE", "tgname"),
    }[database.vendor]
    # Names of our own, never a person's text: nothing here needs escaping.
    wanted = _names(database.vendor)
    names = ", ".join(f"'{name}'" for name in wanted)
    with database.cursor() as cursor:
        cursor.execute(f"SELECT count(*) FROM {table} {column} IN ({names})")
        # All of them: a seal with one trigger missing is open.
        return int(cursor.fetchone()[0]) == len(wanted)


# Every seal of the site, for ``flush``: a slice above that seals rows of its own adds to it.
SEALS: list[Callable[[BaseDatabaseWrapper], AbstractContextManager[None]]] = [unsealed]


def _names(vendor: str) -> list[str]:
    # SQLite's own REPLACE deletes the old row without asking its DELETE trigger.
    verbs = ("update", "delete", "replace") if vendor == "sqlite" else ("update", "delete")
    return [f"{table}_no_{verb}" for table in TABLES for verb in verbs]


def _closing(vendor: str) -> Iterator[str]:
    if vendor == "postgresql":
        yield _REFUSE
    for table, same in TABLES.items():
        for verb in ("update", "delete"):
            head = f"CREATE TRIGGER {table}_no_{verb} BEFORE {verb.upper()} ON {table}"
            # TRUNCATE passes by row triggers, which is how a test empties the tables.
            if vendor == "postgresql":
                yield f"{head} FOR EACH ROW EXECUTE FUNCTION ledger_refuse()"
            else:
                yield f"{head} BEGIN SELECT RAISE(ABORT, '{WHY}'); END"
        if vendor == "sqlite":
            there = " OR ".join(f"EXISTS (SELECT 1 FROM {table} WHERE {each})" for each in same)
            head = f"CREATE TRIGGER {table}_no_replace BEFORE INSERT ON {table} WHEN {there}"
            yield f"{head} BEGIN SELECT RAISE(ABORT, '{WHY}'); END"


def _opening(vendor: str) -> Iterator[str]:
    for table in TABLES:
        for name in _names(vendor):
            if name.startswith(table):
                on = f" ON {table}" if vendor == "postgresql" else ""
                yield f"DROP TRIGGER IF EXISTS {name}{on}"
