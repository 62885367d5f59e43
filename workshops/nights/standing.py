"""What a placed person does at the station, as the gate asks it."""

from __future__ import annotations

from workshops.nights.models import Placing
from workshops.people.gate import Answer, Doing, Register

# Leading is working beside learners: that a lead may lead is a rule of the whole plan.
DOING = {
    Placing.Role.WORKS: Doing.WORKS,
    Placing.Role.LEADS: Doing.WORKS,
    Placing.Role.LEARNS: Doing.LEARNS,
    Placing.Role.WATCHES: Doing.WATCHES,
}


def answer_for(register: Register, placing: Placing) -> Answer:
    """What the gate says of a placing on the register's day. No query.

    A person or station that the register does not know is of another shop, which is no yes.
    """
    if placing.person_id not in register.people or placing.station_id not in register.stations:
        raise KeyError(f"{placing.pk} is placed outside its own shop")
    return register.answer(placing.person_id, placing.station_id, DOING[Placing.Role(placing.role)])
