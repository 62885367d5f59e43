"""What would make a refused move so: one sentence for each rule, never one against a rule."""

from __future__ import annotations

from workshops.nights.engine.board import Breach, spell_names
from workshops.nights.loading import Loaded
from workshops.nights.models import Placing
from workshops.nights.standing import DOING
from workshops.people.gate import Doing
from workshops.people.names import short_names
from workshops.stations.models import Station

MOST_NAMED = 3
# The gate knows these with the person's own papers before it.
_BY_THE_GATE = frozenset({
    "sign_off", "barred", "prerequisites", "minimum_age", "personal_limits",
})  # fmt: skip
_SENTENCES = {
    "minor_hours": "Choose a block that ends by the hour of the club's rule.",
    "presence": "Sign them in on the roll, or change their times under “Who comes?”.",
    "breaks": "Choose a block that is no break of theirs.",
    "last_spark": "Choose an earlier block, or lock up later.",
    "hot_and_straw": "Empty the one kind of work in that room for the whole night first.",
    "out_of_service": "Have it mended and back in service first.",
    "fire_watch_only": "Give the fire watch of that block to another adult first.",
    "learner_ratio": "Put one more lead there first, or move a learner away.",
    "supervision": "Keep a guardian, or one adult more, free in that block first.",
    "crew_maximum": "Move somebody away from there in that block first.",
    "one_place": "Take them out of the other place first.",
    "floor_places": "Move somebody to a job off the floor first.",
    "alarm_hand": "Put somebody else in that room in that block first.",
}


def remedy(loaded: Loaded, breach: Breach, row: Placing) -> str:
    """What would make the move so; empty where nothing on the board would."""
    if breach.rule in _BY_THE_GATE:
        return _by_the_gate(loaded, breach, row)
    if breach.rule == "learner_beside_lead":
        return _with_a_lead(loaded, row.station)
    return _SENTENCES.get(breach.rule, "")


def _by_the_gate(loaded: Loaded, breach: Breach, row: Placing) -> str:
    if row.station_id not in loaded.register.stations:
        return ""
    doing = DOING[Placing.Role(row.role)]
    answer = loaded.register.answer(row.person_id, row.station_id, doing)
    # A missing waiver or consent is a bar to the engine, and has its own way out here.
    same = [reason for reason in answer.reasons if reason.rule == breach.rule]
    found = next(iter(same or answer.reasons), None)
    return found.remedy if found else ""


def _with_a_lead(loaded: Loaded, station: Station) -> str:
    coming = {each.person_id for each in loaded.coming if each.is_expected}
    leads = [
        person for person in loaded.register.who_may(station.pk, Doing.LEADS) if person in coming
    ]
    if not leads:
        return f"Nobody who comes may lead at {station}: ask somebody who may."
    names = short_names(loaded.register.people.values())
    return f"Put {spell_names(names[each] for each in leads[:MOST_NAMED])} there first: may lead."
