"""Everything that changes a night: the calendar, the roll, placings, tally, closing.

Every action is keyword-only and atomic; each says what it raises.
"""

from workshops.nights.actions.by_hand import place, set_lock, unplace
from workshops.nights.actions.calendar import (
    add_night,
    cancel_night,
    set_aims,
    sign_up,
    usual_blocks,
)
from workshops.nights.actions.closing import Also, close_night, mark_read
from workshops.nights.actions.mending import ask_for_a_hand, guess_out, take_back
from workshops.nights.actions.permit import (
    Terms,
    Told,
    add_point,
    answer_points,
    drop_point,
    open_permit,
    tell_spark,
)
from workshops.nights.actions.placing import plan_night, replan_rest
from workshops.nights.actions.roll import SignedIn, sign_in, sign_in_all, sign_out
from workshops.nights.actions.stepping import step_away
from workshops.nights.actions.steps import PutBack, redo_step, undo_step
from workshops.nights.actions.stopping import Stopped, stop_work
from workshops.nights.actions.swapping import change_places
from workshops.nights.actions.tally import tally, undo_tally
from workshops.nights.actions.times import Retimed, set_times
from workshops.nights.actions.training import drop_training, set_training
from workshops.nights.actions.uses import book_uses
from workshops.nights.actions.walking_in import WalkIn, walk_in
from workshops.nights.actions.watch import (
    end_watch,
    look_again,
    note_round,
    stand_down,
    take_watch,
)

__all__ = [
    "Also",
    "PutBack",
    "Retimed",
    "SignedIn",
    "Stopped",
    "Terms",
    "Told",
    "WalkIn",
    "add_night",
    "add_point",
    "answer_points",
    "ask_for_a_hand",
    "book_uses",
    "cancel_night",
    "change_places",
    "close_night",
    "drop_point",
    "drop_training",
    "end_watch",
    "guess_out",
    "look_again",
    "mark_read",
    "note_round",
    "open_permit",
    "place",
    "plan_night",
    "redo_step",
    "replan_rest",
    "set_aims",
    "set_lock",
    "set_times",
    "set_training",
    "sign_in",
    "sign_in_all",
    "sign_out",
    "sign_up",
    "stand_down",
    "step_away",
    "stop_work",
    "take_back",
    "take_watch",
    "tally",
    "tell_spark",
    "undo_step",
    "undo_tally",
    "unplace",
    "usual_blocks",
    "walk_in",
]
