"""Starting the demo anew: the book cannot be emptied, so the database file goes.

Only a SQLite file that holds nothing but the demo is deleted; anything else is refused.
"""

from __future__ import annotations

from pathlib import Path

from django.core.management import call_command
from django.db import connection

from inventory.places.models import Shop
from workshops.home.demo.load import demo_shop


class FreshRefused(ValueError):
    """The demo cannot be started anew here, with what to do instead."""


def start_afresh() -> None:
    """Delete the demo's database file and lay out an empty one.

    Raises
    ------
    FreshRefused
        On another database than a SQLite file, or when other shops are in it.
    """
    if connection.vendor != "sqlite" or connection.is_in_memory_db():  # type: ignore[attr-defined]
        raise FreshRefused(
            "The book of movements is append-only, so the demo is started anew only by deleting"
            " its SQLite file, and this database is none: make a new database and point"
            " DATABASE_URL at it."
        )
    others = _other_shops()
    if others:
        raise FreshRefused(
            f"This database also holds {', '.join(others)}, which would be lost: point"
            " DATABASE_URL at another file for the demo."
        )
    path = Path(str(connection.settings_dict["NAME"]))
    connection.close()
    for end in ("", "-wal", "-shm", "-journal"):
        path.with_name(path.name + end).unlink(missing_ok=True)
    call_command("migrate", verbosity=0)


def _other_shops() -> list[str]:
    """The names of the shops that are not the demo; none before the first migration."""
    if Shop._meta.db_table not in connection.introspection.table_names():
        return []
    demo = demo_shop()
    return [shop.name for shop in Shop.objects.all() if demo is None or shop.pk != demo.pk]
