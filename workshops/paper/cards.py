"""What the station cards of a night say, gathered from the rules, the drawing and the plan."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db.models import Prefetch

from inventory.places.models import Shop
from workshops.club.queries import Rules
from workshops.common.pictograms import spoken_wear, station_mark, wear_pictogram
from workshops.nights.board import BoardView, Row, board_for
from workshops.nights.models import Night, Placing
from workshops.nights.queries import expected_of, last_spark_of
from workshops.people.facts import PersonFacts
from workshops.stations.cautions import DEFER
from workshops.stations.drawing.operation import draw_for_operation
from workshops.stations.guidance.shade import Process, shade_words
from workshops.stations.models import BuildSheet, Operation, Station
from workshops.stations.queries import with_parts
from workshops.stations.translate import sheet_of

STEPS_MOST = 7  # what one side of a sheet holds at the size it is read at


@dataclass(frozen=True, slots=True)
class Wear:
    """One thing to wear, or never to wear, with its picture."""

    word: str
    picture: str


@dataclass(frozen=True, slots=True)
class CrewLine:
    """Somebody at the station tonight, and how the register stands."""

    name: str
    when: str
    role: str
    signed: str


@dataclass(frozen=True, slots=True)
class Job:
    """One operation tonight and how many are expected; None where the plan does not say."""

    operation: Operation
    pieces: int | None


@dataclass(frozen=True)
class Card:
    """One side of one sheet."""

    station: Station
    mark: str
    room: str
    jobs: list[Job]
    crew: list[CrewLine]
    needs: str
    wear: list[Wear]
    never: list[Wear]
    cautions: list[dict[str, str]]
    steps: list[dict[str, str]]
    lead: Operation | None
    drawing: str
    sheet: BuildSheet | None
    trouble: str
    last_spark: str

    @property
    def others(self) -> list[Job]:
        """The operations besides the one whose steps are shown."""
        return [job for job in self.jobs if job.operation != self.lead]


def cards_for(night: Night) -> list[Card]:
    """A card for every station that somebody stands at, in the order of the work."""
    board = board_for(night)
    expected = {row.operation_id: row.rounded for row in expected_of(night.plan)}
    drawn = _Drawn(night.shop)
    return [_card(row, board, expected, drawn) for row in board.open_rows]


class _Drawn:
    """Operations and build sheets of a shop, each sheet drawn once. 7 queries."""

    def __init__(self, shop: Shop) -> None:
        self.units = shop.length_units
        sheets = with_parts(BuildSheet.objects.filter(shop=shop))
        self.sheets = {row.pk: row for row in sheets}
        stations = Station.objects.filter(shop=shop).prefetch_related(
            Prefetch(
                "operations",
                Operation.objects.filter(is_in_use=True).select_related(
                    "recipe__output", "part__item"
                ),
            )
        )
        self.operations = {row.pk: list(row.operations.all()) for row in stations}

    def sheet(self, operation: Operation | None) -> BuildSheet | None:
        """The build sheet an operation is from."""
        return self.sheets.get(operation.sheet_id) if operation and operation.sheet_id else None

    def picture(self, station: Station, operation: Operation | None) -> str:
        """The drawing of an operation as SVG; empty where there is none to show."""
        row = self.sheet(operation)
        if row is None or operation is None:
            return ""
        item = operation.part.item.slug if operation.part else ""
        return draw_for_operation(station.kind, sheet_of(row), self.units, item=item) or ""


def _card(row: Row, board: BoardView, expected: dict[int, int], drawn: _Drawn) -> Card:
    station, rules = row.station, board.loaded.register.rules
    operations = drawn.operations.get(station.pk, [])
    jobs = [Job(each, expected.get(each.pk)) for each in operations]
    jobs = [job for job in jobs if job.pieces] or jobs
    lead = max(jobs, key=lambda job: job.pieces or 0).operation if jobs else None
    return Card(
        station=station,
        mark=station_mark(station.kind),
        room=str(station.room),
        jobs=jobs,
        crew=_crew(row, board),
        needs=_needs(station),
        wear=[Wear(spoken_wear(word), wear_pictogram(word)) for word in station.wear],
        never=[
            Wear(spoken_wear(word, forbidden=True), wear_pictogram(word, forbidden=True))
            for word in station.never_wear
        ],
        cautions=_cautions(station),
        steps=lead.steps[:STEPS_MOST] if lead else [],
        lead=lead,
        drawing=drawn.picture(station, lead),
        sheet=drawn.sheet(lead),
        trouble=row.reason if row.state == "short" else "",
        last_spark=_last_spark(station, board.night, rules),
    )


def _needs(station: Station) -> str:
    if station.level_needed is None:
        return "no sign-off"
    needs = f"sign-off “{station.get_level_needed_display()}”"
    return f"{needs}, {station.age_min} and over" if station.age_min else needs


def _last_spark(station: Station, night: Night, rules: Rules) -> str:
    return last_spark_of(night, rules.watch_minutes) if station.is_spark else ""


def _cautions(station: Station) -> list[dict[str, str]]:
    found: list[dict[str, str]] = list(station.cautions)
    known = {process.value.lower(): process for process in Process}
    process = known.get(station.weld_process.lower())
    # The lens follows from the process and the amperes set now, not from what was once typed.
    if process and station.weld_amperes and not any("lens" in row["text"] for row in found):
        words = shade_words(process, station.weld_amperes)
        found.insert(0, {"text": words, "source": "29 CFR 1910.133(a)(5)"})
    return found


def _crew(row: Row, board: BoardView) -> list[CrewLine]:
    """Everybody at the station tonight, each once, in the order in which they start."""
    seats: dict[int, list[tuple[int, Placing]]] = {}
    for position, cell in enumerate(row.cells):
        for seat in cell.seats:
            seats.setdefault(seat.placing.person_id, []).append((position, seat.placing))
    return [
        CrewLine(
            name=board.names[person],
            when=_when(stints, board),
            role=" and ".join(dict.fromkeys(p.get_role_display() for _, p in stints)),
            signed=_signed(board.loaded.register.people[person], row.station, board.night),
        )
        for person, stints in seats.items()
    ]


def _when(stints: Sequence[tuple[int, Any]], board: BoardView) -> str:
    """``18:30–20:00``, blocks that follow one another run together."""
    runs: list[list[int]] = []
    for position, _ in stints:
        if runs and runs[-1][-1] == position - 1:
            runs[-1].append(position)
        else:
            runs.append([position])
    blocks = board.blocks
    return ", ".join(f"{blocks[run[0]].starts:%H:%M}–{blocks[run[-1]].ends:%H:%M}" for run in runs)


def _signed(facts: PersonFacts, station: Station, night: Night) -> str:
    if station.level_needed is None:
        return "no sign-off needed"
    signed = facts.current(station.pk, night.date)
    if signed is None:
        return "NO CURRENT SIGN-OFF: do not start"
    until = signed.valid_until
    return f"{signed.level.label}, until {until:%d %b %Y}" if until else signed.level.label


def context_of(night: Night, cards: Sequence[Card], printed_at: datetime) -> dict[str, Any]:
    """What the template of the cards needs."""
    return {
        "night": night,
        "shop": night.shop,
        "cards": cards,
        "printed_at": printed_at.astimezone(night.shop.zone),
        "page_size": {"letter": "letter", "a4": "A4"}[night.shop.paper_size],
        "defer": DEFER,
        "boxes": range(1, 41),
    }
