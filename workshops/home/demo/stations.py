"""``stations.json``: stations, tools, and what is done where with which words."""

from __future__ import annotations

from datetime import time
from decimal import Decimal

from inventory.materials.models import Recipe
from inventory.places.models import Room, Shop
from workshops.home.demo.days import Days
from workshops.home.demo.files import Row, kept, read
from workshops.stations.actions import record_inspection
from workshops.stations.card_texts import text_for
from workshops.stations.cautions import DEFAULT_NEVER_WEAR, DEFAULT_WEAR, cautions_for
from workshops.stations.guidance.shade import Process
from workshops.stations.models import BuildSheet, Level, Operation, Part, Station, Tool

LEVELS = {level.label: level for level in Level}
FLAGS = {
    "spark": "is_spark", "hooded": "is_hooded", "straw": "is_straw", "dusty": "is_dusty",
    "heavy": "is_heavy", "seated": "can_sit", "off floor": "is_off_floor",
    "buddy": "needs_buddy",
}  # fmt: skip


def load_stations(shop: Shop, days: Days) -> dict[str, Station]:
    """Every station by its slug, with what it builds on and its tools."""
    found = read("stations")
    rooms = {room.name: room for room in Room.objects.filter(shop=shop)}
    made = Station.objects.bulk_create(
        _station(shop, rooms, row, place) for place, row in enumerate(found["stations"])
    )
    stations = {station.slug: station for station in made}
    for row in found["stations"]:
        needed = [stations[slug] for slug in row.get("prerequisites", ())]
        if needed:
            stations[row["slug"]].prerequisites.set(needed)
    for row in found["tools"]:
        tool = Tool.objects.create(
            shop=shop,
            **kept(row, "name", "number", "count", "out_of_service", "fault", "inspection_months"),
        )
        for told in row.get("inspections", ()):
            record_inspection(
                tool=tool, on=days.day(told["day"]), inspected_by=told["by"], found=told["found"],
                months=tool.inspection_months, by=None, at=days.at(days.day(told["day"]), time(12)),
            )  # fmt: skip
        tool.stations.set([stations[slug] for slug in row["stations"]])
    return stations


def _station(shop: Shop, rooms: dict[str, Room], row: Row, place: int) -> Station:
    """The station; wear and cautions are the usual ones of its kind unless the file differs."""
    crew_min, crew_max = row["crew"]
    plain = kept(
        row, "slug", "name", "kind", "benches", "age_min", "heads_wanted",
        "weld_process", "weld_amperes",
    )  # fmt: skip
    return Station(
        shop=shop, room=rooms[row["room"]], sequence=10 * (place + 1),
        crew_min=crew_min, crew_max=crew_max,
        level_needed=LEVELS[row["level_needed"]] if "level_needed" in row else None,
        wear=row.get("wear") or list(DEFAULT_WEAR.get(row["kind"], ())),
        never_wear=list(DEFAULT_NEVER_WEAR.get(row["kind"], ())),
        cautions=row.get("cautions") or _cautions(row),
        **{FLAGS[flag]: True for flag in row.get("flags", ())}, **plain,
    )  # fmt: skip


def _cautions(row: Row) -> list[dict[str, str]]:
    process = Process(row["weld_process"]) if "weld_process" in row else None
    amperes = row.get("weld_amperes", 0)
    found = cautions_for(row["kind"], process=process, amperes=amperes)
    return [caution.as_row() for caution in found]


def load_operations(
    shop: Shop,
    stations: dict[str, Station],
    recipes: dict[str, Recipe],
    sheets: dict[str, BuildSheet],
) -> dict[str, Operation]:
    """Every operation by its slug."""
    parts = {part.item.slug: part for part in Part.objects.filter(shop=shop).select_related("item")}
    made = Operation.objects.bulk_create(
        Operation(
            shop=shop, station=stations[row["station"]], recipe=recipes[row["output"]],
            part=parts.get(row.get("part", "")), sheet=sheets[row["sheet"]],
            sequence=10 * (place + 1), minutes_per_piece=Decimal(row["minutes"]),
            **_usual_words(stations[row["station"]].kind)
            | kept(row, "slug", "name", "steps", "first_piece", "check_every", "gauge",
                   "bad_piece"),
        )
        for place, row in enumerate(read("stations")["operations"])
    )  # fmt: skip
    return {operation.slug: operation for operation in made}


def _usual_words(kind: str) -> Row:
    """What the card of a station of that kind says where the file says nothing."""
    text = text_for(kind)
    if text is None:
        return {}
    return {
        "steps": [step.as_row() for step in text.steps],
        "first_piece": text.first_piece,
        "check_every": text.check_every,
        "bad_piece": text.bad_piece,
    }
