"""How hard the cut-list engine tries."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class CuttingParams:
    """Limits of the search; the defaults suit a shop.

    Parameters
    ----------
    most_sums
        Most different totals of pieces looked at exactly, 1 or more. Beyond it lengths are
        rounded to a grid of this many steps: plans stay right, the proof may not close.
    most_patterns
        Most patterns gathered for the proof, 1 or more.
    order_tries
        Orders of the patterns tried to save stop-block changes, 0 or more.
    """

    most_sums: int = 60_000
    most_patterns: int = 40_000
    order_tries: int = 400

    def __post_init__(self) -> None:
        if self.most_sums < 1 or self.most_patterns < 1:
            raise ValueError("most_sums and most_patterns must be 1 or more")
        if self.order_tries < 0:
            raise ValueError("order_tries must be 0 or more")
