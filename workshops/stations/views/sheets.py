"""Build sheets: list, page, draft, revision, in force, superseded."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST

from inventory.materials.queries import sets_of
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.club.queries import rules_of
from workshops.stations import actions, queries
from workshops.stations.models import BuildSheet, Part
from workshops.stations.refusals import StationsRefused
from workshops.stations.sheet_forms import NewSheetForm, PutPartForm
from workshops.stations.views.answering import WRITES, answer, kept, lead_to
from workshops.stations.views.drafts import SheetForms

ORDER = (BuildSheet.Status.IN_FORCE, BuildSheet.Status.DRAFT, BuildSheet.Status.SUPERSEDED)


@guard(Permission.SEE_SHEETS)
def sheets(request: ShopRequest) -> HttpResponse:
    """Every drawing with its revisions, those in force first."""
    warned = queries.warned_sheets(queries.sheets_of(request.shop), rules_of(request.shop))
    groups = [
        (status.label, [pair for pair in warned if pair[0].status == status]) for status in ORDER
    ]
    return render(request, "stations/sheets.html", {"groups": groups, "is_any": bool(warned)})


@guard(Permission.SEE_SHEETS)
def sheet(request: ShopRequest, pk: int) -> HttpResponse:
    """A build sheet: parts, drawings, operations, and what is to be mended."""
    row = _sheet(request, pk)
    page = {
        "page": queries.sheet_page(row),
        "is_draft": row.status == BuildSheet.Status.DRAFT,
        "put_part": PutPartForm(shop=request.shop),
    }
    return render(request, "stations/sheet.html", page)


@WRITES
@guard(Permission.EDIT_SHEETS)
def add(request: ShopRequest) -> HttpResponse:
    """A new drawing, as a draft; there must be something for it to make."""
    if not sets_of(request.shop).exists():
        says = "Add the complete set first: a drawing makes one of your items."
        return lead_to(request, "stock:add_item", says)
    form = NewSheetForm(request.POST or None, shop=request.shop)
    row = kept(request, form, lambda fields: actions.make_draft(
        shop=request.shop, by=request.user, **fields
    ))  # fmt: skip
    if row:
        messages.success(request, f"{row} is a draft: put its parts on it.")
        return redirect("stations:sheet", shop=request.shop.slug, pk=row.pk)
    back = reverse("stations:sheets", args=[request.shop.slug])
    return answer(request, form, "Which drawing is new?", "Make a draft", back)


@WRITES
@guard(Permission.EDIT_SHEETS)
def edit(request: ShopRequest, pk: int) -> HttpResponse:
    """Change the roll, the fit, the legs and the joints of a draft."""
    row = _sheet(request, pk)
    if row.status != BuildSheet.Status.DRAFT:
        return _done(request, pk, "", f"{row} is not changed: make a new revision of it.")
    forms = SheetForms(request, row)
    if request.method == "POST" and forms.is_valid():
        try:
            draft = get_object_or_404(BuildSheet, pk=pk)
            actions.edit_sheet(sheet=draft, fields=forms.plain(), by=request.user)
            return _done(request, pk, f"{row}: kept.")
        except StationsRefused as refused:
            forms.sheet.add_error(None, str(refused))
    page = {"forms": forms, "row": row, "looked": queries.look_at_sheet(row)}
    status = 422 if forms.sheet.is_bound else 200
    return render(request, "stations/draft.html", page, status=status)


@require_POST
@guard(Permission.EDIT_SHEETS)
def check(request: ShopRequest, pk: int) -> HttpResponse:
    """What the checks say of what is typed so far, with drawings; nothing is kept."""
    row = _sheet(request, pk)
    forms = SheetForms(request, row)
    looked = queries.look_at_sheet(row, **forms.plain()) if forms.is_valid() else None
    return render(request, "stations/_check.html", {"looked": looked, "forms": forms.told()})


@require_POST
@guard(Permission.EDIT_SHEETS)
def put_part(request: ShopRequest, pk: int) -> HttpResponse:
    """So many of a part go into one set."""
    row = _sheet(request, pk)
    form = PutPartForm(request.POST, shop=request.shop)
    line = kept(request, form, lambda fields: actions.set_part(
        sheet=row, by=request.user, **fields
    ))  # fmt: skip
    told = "; ".join(str(error) for errors in form.errors.values() for error in errors)
    return _done(request, pk, f"{line} is on the sheet." if line else "", told)


@require_POST
@guard(Permission.EDIT_SHEETS)
def part_off(request: ShopRequest, pk: int, part: int) -> HttpResponse:
    """Take a part off a draft."""
    row = get_object_or_404(Part, shop=request.shop, pk=part)
    try:
        actions.take_part_off(sheet=_sheet(request, pk), part=row, by=request.user)
    except StationsRefused as refused:
        return _done(request, pk, "", str(refused))
    return _done(request, pk, f"{row} is off the sheet.")


@require_POST
@guard(Permission.EDIT_SHEETS)
def revise(request: ShopRequest, pk: int) -> HttpResponse:
    """A draft of the next revision."""
    try:
        draft = actions.new_revision(sheet=_sheet(request, pk), by=request.user)
    except StationsRefused as refused:
        return _done(request, pk, "", str(refused))
    return _done(request, draft.pk, f"Revision {draft.revision} is a draft.")


@require_POST
@guard(Permission.EDIT_SHEETS)
def in_force(request: ShopRequest, pk: int) -> HttpResponse:
    """Build from this draft from today on."""
    row = _sheet(request, pk)
    try:
        actions.put_in_force(sheet=row, on=timezone.localdate(), by=request.user)
    except StationsRefused as refused:
        return _done(request, pk, "", str(refused))
    says = f"{row} is in force from today. Print its cards anew."
    if queries.sheet_page(row).replaces_one:
        says += " Decide below what becomes of the parts made to the old one."
    return _done(request, pk, says)


@require_POST
@guard(Permission.EDIT_SHEETS)
def supersede(request: ShopRequest, pk: int) -> HttpResponse:
    """Build from this drawing no longer."""
    row = _sheet(request, pk)
    try:
        actions.supersede(sheet=row, by=request.user)
    except StationsRefused as refused:
        return _done(request, pk, "", str(refused))
    return _done(request, pk, f"{row} is superseded.")


def _sheet(request: ShopRequest, pk: int) -> BuildSheet:
    return get_object_or_404(queries.sheets_of(request.shop), pk=pk)


def _done(request: ShopRequest, pk: int, says: str, refused: str = "") -> HttpResponse:
    if refused:
        messages.error(request, refused)
    elif says:
        messages.success(request, says)
    return redirect("stations:sheet", shop=request.shop.slug, pk=pk)
