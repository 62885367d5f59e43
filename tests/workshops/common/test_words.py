"""Sentences end once."""

from __future__ import annotations

import pytest

from workshops.common.words import stopped


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("Cut stems", "Cut stems."),
        ("Ana B.", "Ana B."),
        ("None left. ", "None left."),
        ("Ready?", "Ready?"),
    ],
)
def test_a_sentence_ends_with_one_full_stop(words: str, told: str) -> None:
    assert stopped(words) == told
