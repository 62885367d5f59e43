"""The seal on the register: the database itself refuses to change or erase what was signed.

Triggers stand on the tables of sign-offs, reviews, lifetimes and bars, on SQLite and on
PostgreSQL, so that neither the admin nor a person at the database's own prompt rewrites who
was let to a machine. A bar may be lifted, once; that an account is gone may be noted.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from django.db.backends.base.base import BaseDatabaseWrapper

WHY = "the register is append-only: enter a correction instead"

# Every column but the account that typed it, which is emptied when the account is deleted.
FIXED = {
    "people_signoff": (
        "shop_id", "person_id", "station_id", "level", "signed_by_id", "signed_on",
        "valid_until", "evidence", "points", "recorded_at",
    ),
    "people_review": (
        "shop_id", "sign_off_id", "verdict", '"on"', "reason", "reviewer_id", "reviewed_by",
        "recorded_at",
    ),
    "people_lifetime": (
        "shop_id", "station_id", "months", "ends_on", "unused_months", "decided_by",
        "decided_on", "source", "recorded_at",
    ),
    "people_bar": (
        "shop_id", "person_id", "station_id", "reason", "set_at", "set_by", '"until"',
        "only_with_a_lead",
    ),
}  # fmt: skip
# A bar is lifted in its own row: once, and never taken back.
LIFTED = ("people_bar", "lifted_at, lifted_by", "OLD.lifted_at IS NOT NULL")

_REFUSE = f"""
CREATE OR REPLACE FUNCTION people_refuse() RETURNS trigger LANGUAGE plpgsql AS $$
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
        for name, table in _triggers():
            on = f" ON {table}" if database.vendor == "postgresql" else ""
            cursor.execute(f"DROP TRIGGER IF EXISTS {name}{on}")


def is_closed(database: BaseDatabaseWrapper) -> bool:
    """Whether every trigger stands."""
    table, column = {
        "sqlite": ("sqlite_master WHERE type = 'trigger' AND", "name"),
        "postgresql": ("pg_trigger WHERE", "tgname"),
    }[database.vendor]
    # Names of our own, never a person's text: nothing here needs escaping.
    names = ", ".join(f"'{name}'" for name, _ in _triggers())
    with database.cursor() as cursor:
        cursor.execute(f"SELECT count(*) FROM {table} {column} IN ({names})")
        # All of them: a seal with one trigger missing is open.
        return int(cursor.fetchone()[0]) == len(list(_triggers()))


@contextmanager
def unsealed(database: BaseDatabaseWrapper) -> Iterator[None]:
    """The register without its seal, closed again whatever happens; for emptying a database."""
    was_closed = is_closed(database)
    if was_closed:
        open_up(database)
    try:
        yield
    finally:
        if was_closed:
            close(database)


def _triggers() -> Iterator[tuple[str, str]]:
    for table in FIXED:
        yield f"{table}_no_update", table
        yield f"{table}_no_delete", table
    yield "people_bar_lifted_once", "people_bar"


def _closing(vendor: str) -> Iterator[str]:
    if vendor == "postgresql":
        yield _REFUSE
    for table, columns in FIXED.items():
        listed = ", ".join(columns)
        yield _trigger(vendor, f"{table}_no_update", f"UPDATE OF {listed}", table)
        yield _trigger(vendor, f"{table}_no_delete", "DELETE", table)
    table, listed, when = LIFTED
    yield _trigger(vendor, "people_bar_lifted_once", f"UPDATE OF {listed}", table, when)


def _trigger(vendor: str, name: str, event: str, table: str, when: str = "") -> str:
    # TRUNCATE passes by row triggers, which is how PostgreSQL empties the tables.
    head = f"CREATE TRIGGER {name} BEFORE {event} ON {table} FOR EACH ROW"
    condition = f" WHEN ({when})" if when else ""
    if vendor == "postgresql":
        return f"{head}{condition} EXECUTE FUNCTION people_refuse()"
    return f"{head}{condition} BEGIN SELECT RAISE(ABORT, '{WHY}'); END"
