"""What the station cards of a night say, gathered from the rules, the drawing and the plan."""

from __future__ import annotations

import re
from dataclasses import dataclass

from django.db.models import Prefetch

from inventory.deliveries.queries import coated_of
from inventory.places.models import Shop
from workshops.common.pictograms import spoken_wear, station_mark, wear_pictogram
from workshops.nights.board import BoardView, Row, board_for
from workshops.nights.models import Night
from workshops.nights.queries import expected_of, last_spark_of
from workshops.paper.coating import coating_cautions
from workshops.paper.crew import CrewLine, crew_of, watchers
from workshops.paper.tally import TallyRow, tally_row
from workshops.paper.words import checks_of, lens_words, needs_words, sparks_words
from workshops.stations.drawing.operation import draw_for_operation
from workshops.stations.inspections import inspections_at, overdue_cautions
from workshops.stations.models import BuildSheet, Operation, Station
from workshops.stations.queries import with_parts
from workshops.stations.translate import sheet_of
from workshops.stock.cut_over.queries import use_first_by_recipe

STEPS_MOST = 7  # what one side of a sheet holds at the size it is read at
_VIEW_BOX = re.compile(r'viewBox="0 0 ([\d.]+) ([\d.]+)"')
USUAL = "common practice, no source"
SHADE_TABLE = "29 CFR 1910.133(a)(5)"


@dataclass(frozen=True, slots=True)
class Wear:
    """One thing to wear, or never to wear, with its picture."""

    word: str
    picture: str


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
    needs: str
    trouble: str
    sparks: str
    crew: list[CrewLine]
    wear: list[Wear]
    never: list[Wear]
    cautions: list[dict[str, str]]
    lead: Job | None
    steps: list[dict[str, str]]
    checks: list[str]
    drawing: str
    sheet: BuildSheet | None
    tally: list[TallyRow]

    @property
    def drawing_ratio(self) -> float:
        """Height of the drawing for its width; 0 without one."""
        box = _VIEW_BOX.search(self.drawing)
        return float(box[2]) / float(box[1]) if box else 0.0

    @property
    def sourced(self) -> list[dict[str, str]]:
        """Cautions with the clause they come from."""
        return [row for row in self.cautions if row["source"] != USUAL]

    @property
    def practice(self) -> list[str]:
        """Cautions that are common practice and have no source; the card says so once."""
        return [row["text"] for row in self.cautions if row["source"] == USUAL]

    @property
    def is_stale(self) -> bool:
        """Whether its drawing is not, or no longer, the one in force."""
        return self.sheet is not None and self.sheet.status != BuildSheet.Status.IN_FORCE


def cards_for(night: Night) -> list[Card]:
    """A card for every station that somebody stands at, in the order of the work."""
    board = board_for(night)
    expected = {row.operation_id: row.rounded for row in expected_of(night.plan)}
    drawn = _Drawn(night.shop)
    return [_card(row, board, expected, drawn) for row in board.open_rows]


class _Drawn:
    """Operations and build sheets of a shop, each sheet drawn once, and what came coated.

    9 queries, 3 more when something did, and 2 more while parts of an old drawing are left.
    """

    def __init__(self, shop: Shop) -> None:
        self.units = shop.length_units
        self.coated = coated_of(shop)
        self.old = use_first_by_recipe(shop)
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
        self.kept: dict[tuple[str, int, str], str] = {}

    def sheet(self, job: Job | None) -> BuildSheet | None:
        """The build sheet a job is from."""
        pk = job.operation.sheet_id if job else None
        return self.sheets.get(pk) if pk else None

    def use_first(self, job: Job) -> list[str]:
        """Parts made to an older drawing that this job takes before any other."""
        return self.old.get(job.operation.recipe_id, [])

    def cautions(self, station: Station, jobs: list[Job]) -> list[dict[str, str]]:
        """What to heed of the metal on hand, then what is heeded always."""
        of_jobs = [sheet for job in jobs if (sheet := self.sheet(job))]
        in_force = [
            row for row in self.sheets.values() if row.status == BuildSheet.Status.IN_FORCE
        ]  # fmt: skip
        found = coating_cautions(station, of_jobs or in_force, self.coated)
        said = " ".join(row["text"] for row in found)
        # The station's own word on zinc is not said twice on one card.
        return [*found, *(row for row in cautions_of(station) if row["text"] not in said)]

    def picture(self, station: Station, job: Job | None) -> str:
        """The drawing of a job as SVG; empty where there is none to show."""
        row = self.sheet(job)
        if row is None or job is None:
            return ""
        part = job.operation.part
        key = (station.kind, row.pk, part.item.slug if part else "")
        if key not in self.kept:
            drawn = draw_for_operation(station.kind, sheet_of(row), self.units, item=key[2])
            self.kept[key] = drawn or ""
        return self.kept[key]


def _card(row: Row, board: BoardView, expected: dict[int, int], drawn: _Drawn) -> Card:
    station, rules = row.station, board.loaded.register.rules
    jobs = _jobs(drawn.operations.get(station.pk, []), expected)
    lead = max(jobs, key=lambda job: job.pieces or 0) if jobs else None
    spark = last_spark_of(board.night, rules.watch_minutes)
    looked_at = inspections_at(board.loaded.stations, rules, board.night.date)
    return Card(
        station=station,
        mark=station_mark(station.kind),
        needs=needs_words(station),
        trouble=" ".join([*([row.reason] if row.state != "open" else []), *board.night_troubles]),
        sparks=sparks_words(station, spark, rules.watch_minutes, watchers(board)),
        crew=crew_of(row, board),
        wear=[Wear(spoken_wear(word), wear_pictogram(word)) for word in station.wear],
        never=[
            Wear(spoken_wear(word, forbidden=True), wear_pictogram(word, forbidden=True))
            for word in station.never_wear
        ],
        cautions=[
            *overdue_cautions(station, looked_at),
            *drawn.cautions(station, jobs),
        ],
        lead=lead,
        steps=lead.operation.steps[:STEPS_MOST] if lead else [],
        checks=[*drawn.use_first(lead), *checks_of(lead.operation)] if lead else [],
        drawing=drawn.picture(station, lead),
        sheet=drawn.sheet(lead),
        tally=_tally(jobs),
    )


def _jobs(operations: list[Operation], expected: dict[int, int]) -> list[Job]:
    """What the plan expects of the station; everything it can make where that is nothing."""
    jobs = [Job(each, expected.get(each.pk)) for each in operations]
    return [job for job in jobs if job.pieces] or jobs


def _tally(jobs: list[Job]) -> list[TallyRow]:
    most = 2 if len(jobs) < 3 else 1
    return [tally_row(job.operation.name, job.pieces, lines_most=most) for job in jobs]


def cautions_of(station: Station) -> list[dict[str, str]]:
    """The station's cautions, its lens worked out anew.

    The lens follows from the process and the amperes set now, not from what was once typed.
    """
    lens = lens_words(station)
    if not lens:
        return list(station.cautions)
    others = [row for row in station.cautions if row["source"] != SHADE_TABLE]
    return [{"text": lens, "source": SHADE_TABLE}, *others]
