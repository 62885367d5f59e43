"""The files themselves: readable, invented, and lengths as people type them."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from workshops.home.demo.files import FOLDER, length, lengths, read

NAMES = sorted(path.stem for path in FOLDER.glob("*.json"))
LENGTHS = {
    "outside", "wall", "wire", "kerf", "trim", "keep", "bought_length", "length", "tolerance",
    "width", "from_end", "diameter", "at", "part_at", "inside_radius", "piece_length",
    "mesh_long", "mesh_short", "ring", "layer", "clearance", "pin",
}  # fmt: skip


def typed_lengths(value: object) -> Iterator[str]:
    """Every length that stands anywhere in a file."""
    if isinstance(value, dict):
        for key, part in value.items():
            if key in LENGTHS and isinstance(part, str):
                yield part
            yield from typed_lengths(part)
    elif isinstance(value, list):
        for part in value:
            yield from typed_lengths(part)


def test_there_is_a_file_for_each_part_of_the_story() -> None:
    assert NAMES == [
        "deliveries", "items", "last_winter", "nights", "orders", "people", "readings", "recipes",
        "sheets", "shop", "stations", "stock", "winter",
    ]  # fmt: skip


@pytest.mark.parametrize("name", ["items", "recipes", "sheets", "stock", "shop"])
def test_every_length_is_one_that_the_shop_can_read(name: str) -> None:
    typed = list(typed_lengths(read(name)))
    assert typed
    assert all(length(text) > 0 for text in typed)


def test_a_length_without_its_unit_would_be_read_in_inches() -> None:
    assert length("33 1/2 in") == length("33 1/2") == 850_900


def test_only_the_lengths_that_a_row_has_are_taken() -> None:
    assert lengths({"wall": "0.109 in", "name": "tube"}, "wall", "outside") == {"wall_um": 2769}


@pytest.mark.parametrize("name", NAMES)
def test_no_line_of_a_file_is_too_long_to_read(name: str) -> None:
    text = (FOLDER / f"{name}.json").read_text(encoding="utf-8")
    assert max(map(len, text.splitlines())) <= 150


def test_the_story_is_told_beside_the_files() -> None:
    story = (FOLDER / "README.md").read_text(encoding="utf-8")
    assert all(f"{name}.json" in story for name in NAMES)
