"""A site in processes of its own, set up by environment variables as a club would."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def environment(**variables: str) -> dict[str, str]:
    """This machine's environment with the site's own variables."""
    kept = {k: v for k, v in os.environ.items() if k not in ("DATABASE_URL", "REDIS_URL")}
    return kept | {"DJANGO_SETTINGS_MODULE": "workshops.settings"} | variables


def manage(*words: str, **variables: str) -> str:
    """What a command says; it must succeed."""
    done = subprocess.run(
        [sys.executable, "manage.py", *words], cwd=ROOT, env=environment(**variables),
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def python(code: str, **variables: str) -> str:
    """What a few lines say inside the site; they must succeed."""
    return manage("shell", "--verbosity", "0", "-c", code, **variables).strip()


START = (
    "start", "--no-input", "--club", "Ice Club", "--shop", "Teal Point",
    "--time-zone", "America/Chicago", "--coordinator", "carla", "--password", "larch-and-sedge-9",
)  # fmt: skip
