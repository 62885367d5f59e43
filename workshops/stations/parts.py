"""Parts: drawn once, shared by build sheets."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db import transaction
from django.db.models import QuerySet

from inventory.engines.strict import ProblemRefused, to_json
from inventory.places.models import Shop
from workshops.stations.models import BuildSheet, Part
from workshops.stations.refusals import NotOfThisShop, StationsRefused
from workshops.stations.translate import part_of, sheet_from_rows
from workshops.stations.writing import check, fill

FIELDS = frozenset({
    "name", "item", "stock", "role", "length_um", "width_um", "end_name", "tolerance_um",
    "holes", "bends",
})  # fmt: skip


@transaction.atomic
def add_part(*, shop: Shop, fields: Mapping[str, Any]) -> Part:
    """A part as drawn.

    Raises
    ------
    UnknownField, NotOfThisShop, StationsRefused
        Naming the field and what to do.
    """
    return _write(Part(shop=shop), fields)


@transaction.atomic
def edit_part(*, part: Part, fields: Mapping[str, Any]) -> Part:
    """The part drawn anew. Sheets in force or superseded keep the drawing they had.

    Raises
    ------
    UnknownField, NotOfThisShop, StationsRefused
        Naming the field and what to do.
    """
    # First: afterwards the rows would draw the new part on the old sheet.
    freeze_sheets(BuildSheet.objects.filter(parts=part))
    return _write(part, fields)


def freeze_sheets(rows: QuerySet[BuildSheet]) -> None:
    """Keep the drawing of every sheet that is no draft and has no frozen copy yet."""
    drafts = BuildSheet.Status.DRAFT
    for sheet in rows.exclude(status=drafts).filter(drawn__isnull=True):
        try:
            sheet.drawn = to_json(sheet_from_rows(sheet))
        except ValueError:
            continue  # it never could be drawn, so there is no drawing to keep
        sheet.save(update_fields=["drawn"])


def _write(part: Part, fields: Mapping[str, Any]) -> Part:
    fill(part, fields, FIELDS)
    for name in ("item", "stock"):
        if getattr(part, f"{name}_id") and getattr(part, name).shop_id != part.shop_id:
            raise NotOfThisShop(f"{name.capitalize()}: choose an item of this shop.", name)
    check(part)
    try:
        # Drawn once and thrown away: what cannot be drawn is not kept.
        part_of(part)
    except ProblemRefused as refused:
        raise StationsRefused(str(refused), refused.key.split(": ")[-1]) from refused
    except ValueError as refused:
        # Geometry names the field first: "width_um must be more than 0 for wire mesh".
        raise StationsRefused(f"{part.name}: {refused}", str(refused).split()[0]) from refused
    part.save()
    return part
