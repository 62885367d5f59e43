"""Sentences of a station card that follow from figures."""

from __future__ import annotations

from workshops.stations.guidance.shade import Process, shade_words
from workshops.stations.models import Operation, Station


def needs_words(station: Station) -> str:
    """What somebody needs to work here: ``needs sign-off “alone”, 18 and over``."""
    if station.level_needed is None:
        return "needs no sign-off"
    needs = f"needs sign-off “{station.get_level_needed_display()}”"
    return f"{needs}, {station.age_min} and over" if station.age_min else needs


def sparks_words(station: Station, spark: str, watch_minutes: int, watch: str) -> str:
    """When the last spark is and who watches; empty where there is neither spark nor watch."""
    if not station.is_spark and station.kind != Station.Kind.FIRE_WATCH:
        return ""
    said = f"LAST SPARK {spark}. The watch stays {watch_minutes} minutes after it, to lock-up"
    if not station.is_spark:
        return f"{said}."
    return f"{said}: {watch}." if watch else f"{said}. NO WATCH IS NAMED: no spark."


def lens_words(station: Station) -> str:
    """The lightest lens for the arc as it is set; empty where no arc is set."""
    process = {each.value: each for each in Process}.get(station.weld_process.upper())
    if process is None or not station.weld_amperes:
        return ""
    try:
        return shade_words(process, station.weld_amperes)
    except ValueError as beyond:
        return f"Filter lens: {beyond}. Ask the welding lead before the first arc."


def checks_of(operation: Operation) -> list[str]:
    """First piece, every nth, and what to do with a bad one."""
    checks = []
    if operation.first_piece:
        checks.append(f"First piece: {operation.first_piece}")
    if operation.check_every:
        gauge = f", with {operation.gauge}" if operation.gauge else ""
        checks.append(f"Then {every(operation.check_every)}{gauge}.")
    if operation.bad_piece:
        checks.append(f"Bad: {operation.bad_piece} Tag it, put it on hold, tell the lead.")
    return checks


def every(nth: int) -> str:
    """``every piece``, ``every 2nd``, ``every 11th``."""
    if nth == 1:
        return "every piece"
    is_teen = nth % 100 in (11, 12, 13)
    suffix = "th" if is_teen else {1: "st", 2: "nd", 3: "rd"}.get(nth % 10, "th")
    return f"every {nth}{suffix}"
