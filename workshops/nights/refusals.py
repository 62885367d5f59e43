"""What the slice refuses, each with a sentence that says what to do."""

from __future__ import annotations

from collections.abc import Sequence

from workshops.nights.engine.board import Breach


class NightRefused(ValueError):
    """A night, sign-up or tally that cannot be as asked."""


class PlacingRefused(ValueError):
    """A placing that breaks a rule about the person; ``breaches`` names each."""

    def __init__(self, breaches: Sequence[Breach]) -> None:
        self.breaches = tuple(breaches)
        # A bar breaks the same rule in every block of the night: said once is enough.
        super().__init__(" ".join(dict.fromkeys(breach.message for breach in breaches)))
