"""The copied database is the migrated one."""

from __future__ import annotations

import sqlite3
from pathlib import Path

from tests.migrated import copy_migrated
from tests.services.site import manage


def test_a_copy_waits_for_no_migration_and_is_sealed(tmp_path: Path) -> None:
    address = copy_migrated(tmp_path / "copy.sqlite3")
    assert manage("migrate", "--check", DATABASE_URL=address) == ""
    with sqlite3.connect(tmp_path / "copy.sqlite3") as copy:
        (seals,) = copy.execute(
            "SELECT count(*) FROM sqlite_master WHERE type = 'trigger' AND name LIKE 'ledger_%'"
        ).fetchone()
    assert seals >= 4
