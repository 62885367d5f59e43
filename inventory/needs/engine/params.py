"""How hard the needs engine tries where steel has to be cut."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class NeedsParams:
    """Limits of the search; the defaults suit a shop.

    Parameters
    ----------
    cut_seconds
        Most seconds for one question about one material's sticks, more than 0.
    """

    cut_seconds: float = 0.5

    def __post_init__(self) -> None:
        if not self.cut_seconds > 0:
            raise ValueError(f"cut_seconds must be more than 0, not {self.cut_seconds}")
