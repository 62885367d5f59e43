"""The site's one service worker: its script, with the files it keeps for when the network is down.

Its version is made of what the files contain, so a changed file makes another script and the
browser replaces the old worker. A slice adds the files of its kept pages with ``add_files`` in
its ``ready()``; how a page is kept stands in ``workshops/access/keeping.py``.
"""

from __future__ import annotations

import json
from functools import lru_cache
from hashlib import sha256
from pathlib import Path

from django.contrib.staticfiles import finders
from django.templatetags.static import static
from django.urls import reverse

SCRIPT = "common/worker.js"
NO_NETWORK = "common/no_network.html"
# What every page of the site loads, and what several pages count by.
_files = [
    NO_NETWORK,
    "bootstrap/css/bootstrap.min.css",
    "common/mark.svg",
    "common/key.js",
    "common/offline.js",
    "common/winterbench.css",
    "common/winterbench.js",
    "django_htmx/htmx-2.min.js",
    "fonts/RedHatDisplay-Bold.ttf",
]


def add_files(*names: str) -> None:
    """Have static files kept on tablets, by their names below ``static/``."""
    _files.extend(name for name in names if name not in _files)


def worker_script() -> str:
    """The worker's script: its version, the addresses of its files, then what it does."""
    told = {
        "VERSION": version(),
        "FILES": [static(name) for name in _files],
        "NO_NETWORK": static(NO_NETWORK),
        "SIGN_OUT": reverse("access:sign_out"),
    }
    head = "".join(f"const {name} = {json.dumps(value)};\n" for name, value in told.items())
    return head + _path(SCRIPT).read_text(encoding="utf-8")


def version() -> str:
    """Changes with every file the worker keeps, and with the worker itself."""
    whole = sha256()
    for name in [SCRIPT, *_files]:
        path = _path(name)
        whole.update(f"{name} {_print_of(path, path.stat().st_mtime_ns)}\n".encode())
    return whole.hexdigest()[:16]


@lru_cache(maxsize=256)
def _print_of(path: Path, _changed: int) -> str:
    """Of one file as of one moment: browsers ask for the worker at every page."""
    return sha256(path.read_bytes()).hexdigest()


def _path(name: str) -> Path:
    found = finders.find(name)
    if not isinstance(found, str):
        raise FileNotFoundError(f"{name} is kept for tablets and is not among the static files.")
    return Path(found)
