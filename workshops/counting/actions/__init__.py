"""Everything that changes what was counted: sharing, mending, sheets, a lost tablet.

Every action is keyword-only and atomic; each says what it raises.
"""

from workshops.counting.actions.mending import Wrong, mend
from workshops.counting.actions.settling import settle
from workshops.counting.actions.sharing import Shared, share, take_back
from workshops.counting.actions.sheets import (
    Counted,
    Decided,
    decide,
    number_sheets,
    type_in,
)
from workshops.counting.actions.tablets import lose

__all__ = [
    "Counted",
    "Decided",
    "Shared",
    "Wrong",
    "decide",
    "lose",
    "mend",
    "number_sheets",
    "settle",
    "share",
    "take_back",
    "type_in",
]
