"""Build sheets: draft, in force, superseded. Only a draft is changed."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime
from typing import Any

from django.db import transaction
from django.utils import timezone

from inventory.engines.strict import ProblemRefused, to_json
from inventory.materials.models import Item
from inventory.places.models import Shop
from workshops.access.models import User
from workshops.stations.models import BuildSheet, Operation, Part, SheetPart
from workshops.stations.parts import freeze_sheets
from workshops.stations.refusals import (
    NotADraft,
    NotDrawable,
    NotOfThisShop,
    StationsRefused,
)
from workshops.stations.translate import sheet_from_rows
from workshops.stations.writing import check, fill

FIELDS = frozenset({"name", "roll", "fit", "legs", "welds", "note"})
Status = BuildSheet.Status


@transaction.atomic
def make_draft(
    *, shop: Shop, name: str, drawing_number: str, set_item: Item, by: User | None
) -> BuildSheet:
    """The first revision of a new drawing, in draft and without parts.

    Raises
    ------
    NotOfThisShop, StationsRefused
        Naming the field and what to do.
    """
    if set_item.shop_id != shop.pk:
        raise NotOfThisShop("Set: choose an item of this shop.", "set_item")
    sheet = BuildSheet(
        shop=shop, name=name, drawing_number=drawing_number, set_item=set_item, changed_by=by
    )
    check(sheet)
    sheet.save()
    return sheet


@transaction.atomic
def edit_sheet(*, sheet: BuildSheet, fields: Mapping[str, Any], by: User | None) -> BuildSheet:
    """The draft with those facts changed.

    Raises
    ------
    NotADraft
        When the sheet is in force or superseded.
    UnknownField, StationsRefused
        Naming the field and what to do.
    """
    _only_a_draft(sheet)
    fill(sheet, fields, FIELDS)
    return _kept(sheet, by)


@transaction.atomic
def set_part(*, sheet: BuildSheet, part: Part, per_set: int, by: User | None) -> SheetPart:
    """So many of the part go into one set; replaces an earlier number.

    Raises
    ------
    NotADraft, NotOfThisShop, StationsRefused
        Saying what to do.
    """
    _only_a_draft(sheet)
    if part.shop_id != sheet.shop_id:
        raise NotOfThisShop("Part: choose a part of this shop.", "part")
    if per_set < 1:
        raise StationsRefused("How many: one or more go into a set.", "per_set")
    line, _ = SheetPart.objects.update_or_create(
        sheet=sheet, part=part, defaults={"per_set": per_set}
    )
    _kept(sheet, by)
    return line


@transaction.atomic
def take_part_off(*, sheet: BuildSheet, part: Part, by: User | None) -> None:
    """The part is no longer on the draft, and nothing on it names the part.

    Raises
    ------
    NotADraft
        When the sheet is in force or superseded.
    StationsRefused
        When a joint, the fit or the legs name the part.
    """
    _only_a_draft(sheet)
    slug = part.item.slug
    named = [*sheet.welds, sheet.fit or {}, sheet.legs or {}]
    # The names stand inside JSON, where no foreign key can hold them.
    if any(slug in (each.get(key) for key in _NAMING) for each in named):
        raise StationsRefused(
            f"{part.name} is named by a joint, the fit or the legs: change those first.", "part"
        )
    SheetPart.objects.filter(sheet=sheet, part=part).delete()
    _kept(sheet, by)


_NAMING = ("part", "onto", "inner", "outer")


@transaction.atomic
def new_revision(*, sheet: BuildSheet, by: User | None) -> BuildSheet:
    """A draft of the next revision, a copy of this one; this one stays as it is.

    Raises
    ------
    NotADraft
        When a draft of the drawing is open already.
    """
    family = BuildSheet.objects.filter(shop=sheet.shop, drawing_number=sheet.drawing_number)
    if family.filter(status=Status.DRAFT).exists():
        raise NotADraft("There is a draft of this drawing already: finish or use that one.")
    # Over all revisions and not after this one: somebody may copy an old one.
    latest = max(family.values_list("revision", flat=True), key=_rank)
    draft = BuildSheet.objects.create(
        shop=sheet.shop, name=sheet.name, drawing_number=sheet.drawing_number,
        revision=next_letter(latest), set_item=sheet.set_item, roll=sheet.roll, fit=sheet.fit,
        legs=sheet.legs, welds=sheet.welds, note=sheet.note, changed_by=by,
    )  # fmt: skip
    SheetPart.objects.bulk_create(
        SheetPart(sheet=draft, part_id=line.part_id, per_set=line.per_set)
        for line in sheet.sheet_parts.all()
    )
    return draft


@transaction.atomic
def put_in_force(
    *, sheet: BuildSheet, on: date, by: User | None, at: datetime | None = None
) -> BuildSheet:
    """The draft is the drawing to build from; the revision before it is superseded.

    Its drawing is frozen, so that no later change of a part alters it, and the operations
    of the revision before follow this one.

    Raises
    ------
    NotADraft
        When it is in force or superseded.
    NotDrawable
        When a value makes no drawing, or there is no part on it.
    """
    _only_a_draft(sheet)
    try:
        drawn = sheet_from_rows(sheet)
    except (ProblemRefused, ValueError) as refused:
        raise NotDrawable(f"Nothing can be drawn yet: {refused}.") from refused
    if not drawn.parts:
        raise NotDrawable("Parts: put the parts on the sheet first.")
    before = BuildSheet.objects.filter(
        shop=sheet.shop, drawing_number=sheet.drawing_number, status=Status.IN_FORCE
    )
    # Before the state changes: what was built from must be readable as it was built.
    freeze_sheets(before)
    # Cards go by the operation's sheet: from now on they show the new revision.
    Operation.objects.filter(sheet__in=before).update(sheet=sheet)
    before.update(status=Status.SUPERSEDED)
    sheet.status, sheet.in_force_from, sheet.drawn = Status.IN_FORCE, on, to_json(drawn)
    return _kept(sheet, by, at)


@transaction.atomic
def supersede(*, sheet: BuildSheet, by: User | None, at: datetime | None = None) -> BuildSheet:
    """The drawing is no longer built from, and nothing takes its place.

    Raises
    ------
    NotADraft
        When it is not in force.
    """
    if sheet.status != Status.IN_FORCE:
        raise NotADraft(f"{sheet} is not in force.")
    freeze_sheets(BuildSheet.objects.filter(pk=sheet.pk))
    # The copy was frozen on another object of the same row.
    sheet.refresh_from_db()
    sheet.status = Status.SUPERSEDED
    return _kept(sheet, by, at)


def next_letter(revision: str) -> str:
    """The revision after this one: B after A, AA after Z; a number is counted on."""
    if revision.isdigit():
        return str(int(revision) + 1)
    letters = revision.upper()
    if letters.endswith("Z"):
        return (next_letter(letters[:-1]) if letters[:-1] else "A") + "A"
    return letters[:-1] + chr(ord(letters[-1]) + 1)


def _rank(revision: str) -> tuple[int, str]:
    # Shorter first, so that AA comes after Z.
    return len(revision), revision


def _only_a_draft(sheet: BuildSheet) -> None:
    if sheet.status != Status.DRAFT:
        raise NotADraft(
            f"{sheet} is {sheet.get_status_display()} and is not changed: "
            "make a new revision of it."
        )


def _kept(sheet: BuildSheet, by: User | None, at: datetime | None = None) -> BuildSheet:
    sheet.changed_by, sheet.changed_at = by, at or timezone.now()
    check(sheet)
    sheet.save()
    return sheet
