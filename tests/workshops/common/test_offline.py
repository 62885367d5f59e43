"""The service worker's script: complete, of one version, replaced when a file changes."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest
from django.contrib.staticfiles import finders
from django.test import Client

from workshops.common import offline


def told(script: str, name: str) -> Any:
    found = re.search(rf"^const {name} = (.+);$", script, re.MULTILINE)
    assert found
    return json.loads(found[1])


def test_the_worker_comes_from_the_root_and_is_asked_for_anew(client: Client) -> None:
    answer = client.get("/worker.js")
    assert answer["Content-Type"] == "text/javascript"
    assert (answer["Service-Worker-Allowed"], answer["Cache-Control"]) == ("/", "no-cache")
    assert "default-src 'self'" in answer["Content-Security-Policy"]


def test_every_file_it_keeps_is_there(client: Client) -> None:
    files = told(client.get("/worker.js").content.decode(), "FILES")
    assert [file for file in files if not finders.find(file.removeprefix("/static/"))] == []
    assert told(offline.worker_script(), "NO_NETWORK") in files


def test_what_every_page_loads_is_among_them(coordinator: Any, client_of: Any) -> None:
    page = client_of(coordinator).get("/teal-point/nights/").content.decode()
    loaded = re.findall(r'(?:src|href)="(/static/[^"]+)"', page)
    assert set(loaded) <= set(told(offline.worker_script(), "FILES"))


def test_a_changed_file_makes_another_version(tmp_path: Path, monkeypatch: Any) -> None:
    before, same = offline.version(), offline.version()
    changed = tmp_path / "changed.css"
    changed.write_text("p { color: red }")
    monkeypatch.setattr(offline, "_path", lambda name: changed)
    assert before == same != offline.version()


def test_a_file_that_is_not_there_is_told_by_its_name(monkeypatch: Any) -> None:
    monkeypatch.setattr(offline, "_files", ["counting/gone.js"])
    with pytest.raises(FileNotFoundError, match=r"counting/gone\.js"):
        offline.version()


def test_a_file_is_added_once(monkeypatch: Any) -> None:
    monkeypatch.setattr(offline, "_files", [])
    offline.add_files("common/mark.svg", "common/offline.js")
    offline.add_files("common/mark.svg")
    assert offline._files == ["common/mark.svg", "common/offline.js"]
