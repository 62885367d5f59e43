"""What the slice refuses, each with a sentence that says what to do."""

from __future__ import annotations

from collections.abc import Sequence

from workshops.nights.engine.board import Breach


class NightRefused(ValueError):
    """A night, sign-up or tally that cannot be as asked."""


class BoardChanged(NightRefused):
    """A step made on a board that somebody else has changed since."""


class PlacingRefused(ValueError):
    """A placing that breaks a rule about the person; ``breaches`` names each.

    ``remedy`` says what would make it so, where something would.
    """

    def __init__(self, breaches: Sequence[Breach], remedy: str = "") -> None:
        self.breaches, self.remedy = tuple(breaches), remedy
        # A bar breaks the same rule in every block of the night: said once is enough.
        told = dict.fromkeys(breach.message for breach in breaches)
        super().__init__(" ".join([*told, remedy]).strip())
