"""A migrated SQLite file, made once and copied: all migrations take ten seconds each time.

Both the files of served sites and the database in memory that most tests use are copies of it.

The file is kept beside the machine's other scratch files under the sum of the migrations and
the pinned packages, so that a changed one is never taken for the old one.
"""

from __future__ import annotations

import fcntl
import hashlib
import os
import shutil
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

from tests.services.site import ROOT, manage


def _sum() -> str:
    sources = [*sorted(ROOT.glob("*/*/migrations/*.py")), ROOT / "requirements.txt"]
    told = hashlib.sha256(f"{ROOT}".encode())
    for source in sources:
        told.update(source.read_bytes())
    # What the triggers say stands outside the migrations that put them on.
    for seal in sorted(ROOT.glob("*/*/seal*.py")):
        told.update(seal.read_bytes())
    return told.hexdigest()[:16]


def copy_migrated(path: Path) -> str:
    """Put an empty, migrated database at ``path``; its address."""
    with _migrated() as made:
        shutil.copy(made, path)
    return f"sqlite:///{path}"


def fill_migrated(connection: Any) -> None:
    """Copy the migrated database into Django's connection to an empty one in memory."""
    connection.ensure_connection()
    with _migrated() as made, closing(sqlite3.connect(made)) as source:
        source.backup(connection.connection)


@contextmanager
def _migrated() -> Iterator[Path]:
    folder = Path(tempfile.gettempdir()) / f"winterbench-migrated-{os.getuid()}"
    folder.mkdir(mode=0o700, exist_ok=True)
    made = folder / f"{_sum()}.sqlite3"
    with (folder / "lock").open("w") as lock:
        # Two workers may ask at once; the second finds it made, and nobody takes it away meanwhile.
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not made.exists():
            for old in folder.glob("*.sqlite3*"):
                old.unlink()
            begun = made.with_suffix(".begun")
            begun.unlink(missing_ok=True)
            manage("migrate", "--verbosity", "0", DATABASE_URL=f"sqlite:///{begun}")
            begun.rename(made)
        yield made
