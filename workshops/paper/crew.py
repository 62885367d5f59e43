"""Who is at a station tonight, from when to when, and how the register stands."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from workshops.nights.board import BoardView, Row
from workshops.nights.models import Placing
from workshops.nights.standing import answer_for
from workshops.people.facts import PersonFacts
from workshops.stations.models import Station

NO_SIGN_OFF = "NO CURRENT SIGN-OFF: do not start"
# No more than that: a card hangs where everybody reads it.
STOPPED = "STOPPED IN THE REGISTER: do not start, ask the lead"
AT_THE_DOOR = ("waiver", "consent")
Stint = tuple[int, Placing]


@dataclass(frozen=True, slots=True)
class CrewLine:
    """Somebody at the station tonight."""

    name: str
    when: str
    role: str
    signed: str

    @property
    def told(self) -> str:
        """Everything but the name."""
        return f"{self.when} · {self.role} · {self.signed}"


def crew_of(row: Row, board: BoardView) -> list[CrewLine]:
    """Everybody at the station, each once, in the order in which they start."""
    seats: dict[int, list[Stint]] = {}
    for position, cell in enumerate(row.cells):
        for seat in cell.seats:
            seats.setdefault(seat.placing.person_id, []).append((position, seat.placing))
    people = board.loaded.register.people
    return [
        CrewLine(
            name=board.names[person],
            when=_when(stints, board),
            role=" and ".join(dict.fromkeys(p.get_role_display() for _, p in stints)),
            signed=_signed(people[person], row.station, board, stints[0][1]),
        )
        for person, stints in seats.items()
    ]


def watchers(board: BoardView) -> str:
    """Who keeps the fire watch tonight, with their times; empty when nobody does."""
    watching = [row for row in board.open_rows if row.station.kind == Station.Kind.FIRE_WATCH]
    lines = [line for row in watching for line in crew_of(row, board)]
    return " and ".join(f"{line.name} ({line.when})" for line in lines)


def _when(stints: Sequence[Stint], board: BoardView) -> str:
    """``18:30–20:00``, blocks that follow one another run together."""
    runs: list[list[int]] = []
    for position, _ in stints:
        if runs and runs[-1][-1] == position - 1:
            runs[-1].append(position)
        else:
            runs.append([position])
    ends = [block.ends for block in board.blocks]
    if stints and stints[-1][1].role == Placing.Role.WATCHES:
        # Embers do not stop for coffee: a watch lasts until the next one, the last to lock-up.
        ends = [*(block.starts for block in board.blocks[1:]), board.night.lock_up]
    return ", ".join(f"{board.blocks[run[0]].starts:%H:%M}–{ends[run[-1]]:%H:%M}" for run in runs)


def _signed(facts: PersonFacts, station: Station, board: BoardView, placing: Placing) -> str:
    answer = answer_for(board.loaded.register, placing)
    signed = facts.current(station.pk, board.night.date)
    if station.level_needed is not None and signed is None:
        return NO_SIGN_OFF
    if not answer.ok_but_for(AT_THE_DOOR):
        return STOPPED
    if station.level_needed is None or signed is None:
        return "no sign-off needed"
    until = signed.valid_until
    said = f"“{signed.level.label}”"
    return f"{said} until {until.day} {until:%b %Y}" if until else said
