"""What may be measured of a piece of an operation, from its own drawing."""

from __future__ import annotations

from workshops.club.queries import Rules
from workshops.stations.geometry.gauging import Measure, holes_of, length_of, ring_of
from workshops.stations.geometry.sheet import Sheet
from workshops.stations.models import BuildSheet, Operation, Station
from workshops.stations.queries import SheetRefused, limits_of, part_of, sheet_of, with_parts

Kind = Station.Kind


def measures_of(operation: Operation, rules: Rules) -> tuple[Measure, ...]:
    """What the drawing says of the piece as it leaves this station; empty: gauge or eye alone.

    At the saw the length, at the drill its holes, at rolling the first turn. A bent or welded
    piece has no straight length left to measure. Two queries.
    """
    if operation.station.kind == Kind.ROLL:
        sheet = _sheet(operation)
        if sheet is None or sheet.roll is None:
            return ()
        return (ring_of(sheet.roll, limits_of(rules).max_ring_diameter_um),)
    if operation.part is None or operation.station.kind not in (Kind.CUT, Kind.DRILL):
        return ()
    try:
        part = part_of(operation.part)
    except ValueError:
        return ()
    if operation.station.kind == Kind.CUT:
        return (length_of(part),)
    return holes_of(part) or (length_of(part),)


def _sheet(operation: Operation) -> Sheet | None:
    if operation.sheet_id is None:
        return None
    rows = with_parts(BuildSheet.objects.filter(shop_id=operation.shop_id)).select_related("shop")
    row = rows.filter(pk=operation.sheet_id).first()
    try:
        return sheet_of(row) if row else None
    except SheetRefused:
        return None
