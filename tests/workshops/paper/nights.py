"""Nights drawn at random, up to the fullest that a card must hold, as cards without a database."""

from __future__ import annotations

import random
from datetime import UTC, date, datetime

from inventory.measures.lengths import Units
from inventory.places.models import Room, Shop
from tests.workshops.stations.geometry import sheets
from workshops.common.pictograms import spoken_wear, station_mark, wear_pictogram
from workshops.common.pictograms.wear import WEAR
from workshops.nights.models import Night
from workshops.paper.cards import Card, Job, Wear
from workshops.paper.crew import CrewLine
from workshops.paper.tally import tally_row
from workshops.paper.words import checks_of, needs_words, sparks_words
from workshops.stations.cautions import cautions_for
from workshops.stations.drawing.operation import draw_for_operation
from workshops.stations.models import BuildSheet, Level, Operation, Station

PRINTED = datetime(2026, 1, 14, 23, 30, tzinfo=UTC)  # 17:30 in the shop
NAMES = ("Wilhelmina Featherstone-Ashdown", "Bo Ek", "Maximiliane Oberhuber-Lindqvist", "Ida Sund")
WORDS = (
    "lay", "hold", "turn", "press", "the", "stick", "rod", "wire", "before", "after", "slowly",
    "until", "it", "meets", "your", "mark",
)  # fmt: skip
KINDS = ("cut", "drill", "bend", "weld", "bolt", "roll", "ring", "fill", "tag", "fire_watch")


def a_shop(paper: str = "letter") -> Shop:
    return Shop(name="Teal Point", slug="teal-point", time_zone="America/Chicago", paper_size=paper)


def a_night(shop: Shop) -> Night:
    return Night(shop=shop, date=date(2026, 1, 14))


def words(draw: random.Random, letters: int) -> str:
    """A sentence of at most so many letters."""
    said = draw.choice(WORDS)
    while len(longer := f"{said} {draw.choice(WORDS)}") <= letters:
        said = longer
    return said.capitalize()


def a_card(draw: random.Random, *, full: float | None = None, kind: str = "") -> Card:
    """A station with a night's crew; ``full`` from 0 to 1: as much of everything as a card may."""

    def many(least: int, most: int) -> int:
        return draw.randint(least, most) if full is None else round(least + full * (most - least))

    kind = kind or draw.choice(KINDS)
    station = Station(
        name="Abrasive saw by the window" if full == 1 else words(draw, 12), kind=kind,
        room=Room(name="Metal bay"), level_needed=Level.ALONE, age_min=18, is_spark=kind == "weld",
    )  # fmt: skip
    jobs = [Job(_operation(draw, many), draw.randint(1, 150)) for _ in range(many(1, 5))]
    item = {"cut": "post-9", "drill": "stem", "bend": "cradle-rod"}.get(kind, "")
    worn = draw.sample(sorted(WEAR), 11)
    return Card(
        station=station,
        mark=station_mark(kind),
        needs=needs_words(station),
        trouble=words(draw, 90) if draw.random() < 0.3 and full is None else "",
        sparks=sparks_words(station, "20:00", 60, f"{NAMES[0]} (18:30–21:00)"),
        crew=[_crew_line(draw, n) for n in range(many(1, 12))],
        wear=[Wear(spoken_wear(w), wear_pictogram(w)) for w in worn[: many(1, 8)]],
        never=[
            Wear(spoken_wear(w, forbidden=True), wear_pictogram(w, forbidden=True))
            for w in worn[8 : 8 + many(0, 3)]
        ],
        cautions=[each.as_row() for each in _cautions(kind)][: many(1, 6)],
        lead=jobs[0],
        steps=jobs[0].operation.steps,
        checks=checks_of(jobs[0].operation),
        drawing=draw_for_operation(kind, sheets.CYLINDER, Units.INCH, item=item) or "",
        sheet=BuildSheet(drawing_number="NC-31", revision="C", status="in_force"),
        tally=[
            tally_row(job.operation.name, job.pieces, lines_most=2 if len(jobs) < 3 else 1)
            for job in jobs
        ],
    )


def _operation(draw: random.Random, many: object) -> Operation:
    steps = [
        {"step": words(draw, 36), "key_point": words(draw, 36), "reason": words(draw, 36)}
        for _ in range(many(3, 7))  # type: ignore[operator]
    ]
    return Operation(
        name=words(draw, 26), steps=steps, first_piece=words(draw, 60), check_every=10,
        gauge="Gauge G3", bad_piece=f"{words(draw, 50)}.",
    )  # fmt: skip


def _crew_line(draw: random.Random, number: int) -> CrewLine:
    return CrewLine(
        name=f"{draw.choice(NAMES)} {number}", when="18:30–20:00", role="works",
        signed="“alone” until 5 Nov 2026",
    )  # fmt: skip


def _cautions(kind: str) -> list:
    """Those of the kind, and those of the saw to make up six."""
    return [*cautions_for(kind), *cautions_for("cut")]
