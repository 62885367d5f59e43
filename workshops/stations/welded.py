"""What the welded parts of a build sheet are cut from: where zinc matters."""

from __future__ import annotations

from collections.abc import Iterator

from workshops.stations.models import BuildSheet
from workshops.stations.translate import SheetRefused, sheet_of


def welded_stocks(row: BuildSheet) -> Iterator[int]:
    """Ids of the stock items; without a query when the parts are prefetched."""
    try:
        welds = sheet_of(row).welds()
    except SheetRefused:
        # Of a sheet that cannot be read, every part may be a welded one.
        yield from (line.part.stock_id for line in row.sheet_parts.all())
        return
    slugs = {slug for joint in welds for slug in (joint.part, joint.onto)}
    for line in row.sheet_parts.all():
        if line.part.item.slug in slugs:
            yield line.part.stock_id
