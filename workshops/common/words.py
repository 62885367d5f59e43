"""Small rules of written English that pages and refusals share."""

from __future__ import annotations


def stopped(words: object) -> str:
    """The words with one full stop behind them, also when they end in "Ana B.": it ends both."""
    text = str(words).rstrip()
    return text if text.endswith((".", "!", "?")) else f"{text}."
