"""The seal on the book: the database itself refuses to change or delete what was posted.

Triggers stand on the tables of entries and lines, on SQLite and on PostgreSQL, so that
neither the admin nor a person at the database's own prompt rewrites history. The one way
round is to break the seal, which ``flush`` does because it empties everything.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager

from django.db.backends.base.base import BaseDatabaseWrapper

TABLES = ("ledger_entry", "ledger_line")
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
    names = ", ".join(f"'{name}'" for name in _names())
    with database.cursor() as cursor:
        cursor.execute(f"SELECT count(*) FROM {table} {column} IN ({names})")
        # All of them: a seal with one trigger missing is open.
        return int(cursor.fetchone()[0]) == len(_names())


# Every seal of the site, for ``flush``: a slice above that seals rows of its own adds to it.
SEALS: list[Callable[[BaseDatabaseWrapper], AbstractContextManager[None]]] = [unsealed]


def _names() -> list[str]:
    return [f"{table}_no_{verb}" for table in TABLES for verb in ("update", "delete")]


def _closing(vendor: str) -> Iterator[str]:
    if vendor == "postgresql":
        yield _REFUSE
    for table in TABLES:
        for verb in ("update", "delete"):
            head = f"CREATE TRIGGER {table}_no_{verb} BEFORE {verb.upper()} ON {table}"
            # TRUNCATE passes by row triggers, which is how a test empties the tables.
            if vendor == "postgresql":
                yield f"{head} FOR EACH ROW EXECUTE FUNCTION ledger_refuse()"
            else:
                yield f"{head} BEGIN SELECT RAISE(ABORT, '{WHY}'); END"


def _opening(vendor: str) -> Iterator[str]:
    for table in TABLES:
        for verb in ("update", "delete"):
            on = f" ON {table}" if vendor == "postgresql" else ""
            yield f"DROP TRIGGER IF EXISTS {table}_no_{verb}{on}"
