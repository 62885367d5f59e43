"""What was measured at the door, in words."""

from __future__ import annotations

from inventory.deliveries.models import Received
from inventory.ledger.refusals import plain
from inventory.measures.lengths import Units
from workshops.stations.geometry.spelling import spell_thin


def measured_words(row: Received, units: Units) -> str:
    """``wall 0.120 in, galvanised``; empty when nothing was measured or looked at."""
    sizes = (("outside", row.outside_um), ("wall", row.wall_um), ("wire", row.wire_um))
    told = [f"{name} {spell_thin(size, units)}" for name, size in sizes if size is not None]
    if row.moisture_percent is not None:
        told.append(f"{plain(row.moisture_percent)} % moist")
    if row.finish:
        told.append(row.get_finish_display())
    return ", ".join(told)
