"""What a placed person does at the station, as the gate asks it."""

from __future__ import annotations

from workshops.nights.models import Night, Placing
from workshops.people.gate import Answer, Doing, Register, register_on
from workshops.people.names import short_names
from workshops.stations.models import Station

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


def stopped_at(night: Night, station: Station) -> list[str]:
    """Names of those placed at a station on the night whom the gate stops there: nine queries.

    One query and empty where nobody is placed.
    """
    rows = list(Placing.objects.filter(night=night, station=station))
    if not rows:
        return []
    register = register_on(night.shop, night.date)
    names = short_names(register.people.values())
    stopped = [row.person_id for row in rows if not answer_for(register, row).ok]
    return [names[person] for person in dict.fromkeys(stopped)]
