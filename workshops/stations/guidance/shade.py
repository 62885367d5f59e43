"""The lightest filter lens for an arc: a floor, which a local rule can make darker."""

from __future__ import annotations

from enum import Enum

from inventory.measures.lengths import inches


class Process(Enum):
    """The arc processes that the shade table knows."""

    SMAW = "SMAW"
    GMAW = "GMAW"
    FCAW = "FCAW"
    GTAW = "GTAW"


# (from this many amperes, shade at least); the last number is where the table ends.
_GAS_SHIELDED = ((0, 7), (60, 10), (160, 10), (250, 10))
_ROWS = {
    Process.SMAW: (((0, 7), (60, 8), (160, 10), (250, 11)), 550),
    Process.GMAW: (_GAS_SHIELDED, 500),
    Process.FCAW: (_GAS_SHIELDED, 500),
    Process.GTAW: (((0, 8), (50, 8), (150, 10)), 500),
}
# SMAW goes by the diameter of the electrode as well.
_ELECTRODES = ((0, 7), (inches("3/32"), 8), (inches("5/32"), 10), (inches("8/32"), 11))


def minimum_shade(
    process: Process, amperes: int, *, electrode_um: int | None = None, local_minimum: int = 0
) -> int:
    """The lightest shade to start from; darker is always allowed.

    Parameters
    ----------
    amperes
        1 or more, and not beyond the table.
    electrode_um
        Diameter of a stick electrode; counts for SMAW only, and the darker row wins.
    local_minimum
        Shade that a state plan or the club asks for; it counts when it is darker.

    Raises
    ------
    ValueError
        When the amperes are not in the table, which then has no answer.

    Notes
    -----
    A value on the border of two rows (60 A) takes the darker row.

    Source: 29 CFR 1910.133(a)(5).
    """
    rows, most = _ROWS[process]
    if not 0 < amperes <= most:
        raise ValueError(f"the shade table for {process.value} goes from 1 to {most} A")
    # The darkest of all that apply: the table is a floor, and so is a local rule.
    shades = [_row(rows, amperes), local_minimum]
    if process is Process.SMAW and electrode_um is not None:
        shades.append(_row(_ELECTRODES, electrode_um))
    return max(shades)


def shade_words(process: Process, amperes: int, *, local_minimum: int = 0) -> str:
    """What a welding card says of the lens."""
    shade = minimum_shade(process, amperes, local_minimum=local_minimum)
    return (
        f"Filter lens: shade at least {shade} for {process.value} at {amperes} A. Start too dark,"
        f" go lighter until you see the weld, never below {shade}."
    )


def _row(rows: tuple[tuple[int, int], ...], value: int) -> int:
    return [shade for start, shade in rows if value >= start][-1]
