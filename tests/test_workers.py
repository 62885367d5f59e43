"""With several workers, what is set up once for a folder stays on one of them."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.workers import TOGETHER, stays_with

ROOT = Path(__file__).resolve().parent.parent


@pytest.mark.parametrize("folder", TOGETHER)
def test_the_folders_that_stay_together_are_there(folder: str) -> None:
    assert (ROOT / folder / "__init__.py").is_file()


def test_a_file_stays_whole_and_a_folder_that_shares_a_server_does_too() -> None:
    assert stays_with("tests/test_access.py::test_a[b::c]") == "tests/test_access.py"
    assert stays_with("tests/services/test_redis.py::test_x") == "tests/services"
    assert stays_with("tests/workshops/home/demo/test_book.py::test_x").endswith("home/demo")
