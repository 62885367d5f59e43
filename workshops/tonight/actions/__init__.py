"""Everything that changes the rows of tonight: asks, taps, a night called off.

Every action is keyword-only; each says what it raises.
"""

from workshops.tonight.actions.asking import ask, reply
from workshops.tonight.actions.snow import (
    call_off,
    move_people,
    move_training,
    night_instead,
    rung,
    take_off,
    tell,
)
from workshops.tonight.actions.tapping import comes_after_all, not_coming

__all__ = [
    "ask", "call_off", "comes_after_all", "move_people", "move_training", "night_instead",
    "not_coming", "reply", "rung", "take_off", "tell",
]  # fmt: skip
