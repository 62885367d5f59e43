"""What a placing is expected to make."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Output:
    """What a placing is expected to make.

    Parameters
    ----------
    made
        Operation id -> expected runs in each block.
    racks
        Piece id -> expected on the rack at the end of the night.
    sets
        Set kind id -> expected complete sets standing on the racks at the end.
    sets_before
        The same at the start.
    worth
        Points added tonight: what stands on the racks at the end less what stood there.
    """

    made: dict[str, tuple[float, ...]] = field(default_factory=dict)
    racks: dict[str, float] = field(default_factory=dict)
    sets: dict[str, float] = field(default_factory=dict)
    sets_before: dict[str, float] = field(default_factory=dict)
    worth: float = 0.0
