"""How long a noise may be heard without ear protection, and the dose of a mixed evening."""

from __future__ import annotations

import math
from collections.abc import Iterable

# 29 CFR 1910.95, table G-16: level in dBA, hours as printed.
PRINTED_HOURS = (
    (90, 8.0), (92, 6.0), (95, 4.0), (97, 3.0), (100, 2.0), (102, 1.5), (105, 1.0), (110, 0.5),
    (115, 0.25),
)  # fmt: skip
ACTION_DOSE = 50.0  # percent, which is 85 dBA over eight hours
PEAK_DB = 140  # of a blow


def permitted_hours(level_dba: float) -> float:
    """Hours a day as the table prints them; between two rows, those of the louder.

    0 above 115 dBA, where no time without protection is allowed; 8 or more below 90 is
    answered by 8, because the table starts there.

    Source: 29 CFR 1910.95, table G-16. The formula of its appendix A gives 6.06, 3.03 and
    1.52 where the table prints 6, 3 and 1.5; the card follows the table.
    """
    # The louder row and no interpolation: a phone's meter is no better than that.
    return next((hours for level, hours in PRINTED_HOURS if level_dba <= level), 0.0)


def reference_hours(level_dba: float) -> float:
    """T of the appendix: 8 / 2^((L - 90) / 5), for doses.

    Source: 29 CFR 1910.95 appendix A.
    """
    return 8 / 2 ** ((level_dba - 90) / 5)


def dose_percent(stretches: Iterable[tuple[float, float]]) -> float:
    """The dose of (hours, dBA) stretches: 100 is all that a day allows.

    Source: 29 CFR 1910.95 appendix A: D = 100 (C1/T1 + C2/T2 + ...).
    """
    return 100 * sum(hours / reference_hours(level) for hours, level in stretches)


def average_dba(dose: float) -> float:
    """The level that would give this dose in eight hours; the dose is above 0.

    Source: 29 CFR 1910.95 appendix A(2): TWA = 16.61 log10(D / 100) + 90.
    """
    return 16.61 * math.log10(dose / 100) + 90
