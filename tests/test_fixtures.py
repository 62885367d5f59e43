"""Fixtures: every file can be read. What the demo makes of them is tested beside its loading."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
FILES = sorted((ROOT / "fixtures").rglob("*.json"))


def test_there_are_fixtures() -> None:
    assert FILES


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.relative_to(ROOT)))
def test_a_fixture_is_json_and_gives_no_key_twice(path: Path) -> None:
    def once(pairs: list[tuple[str, object]]) -> dict[str, object]:
        assert len({key for key, _ in pairs}) == len(pairs), f"a key twice in {path}"
        return dict(pairs)

    json.loads(path.read_text(encoding="utf-8"), object_pairs_hook=once)
