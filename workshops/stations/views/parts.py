"""Parts: add, draw anew, and what the checks say while somebody types."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.stations import actions, queries
from workshops.stations.models import Part
from workshops.stations.part_forms import BendFormSet, HoleFormSet, PartForm, bends_of
from workshops.stations.refusals import StationsRefused
from workshops.stations.rows import rows_of
from workshops.stations.views.answering import WRITES


class PartForms:
    """The form of a part with its holes and bends, read together."""

    def __init__(self, request: ShopRequest, part: Part | None = None) -> None:
        posted, units = request.POST or None, request.shop.length_units
        holes, bends = (part.holes, part.bends) if part else ([], [])
        options: dict[str, Any] = {"form_kwargs": {"units": units}}
        self.part = PartForm(posted, shop=request.shop, part=part)
        self.holes = HoleFormSet(posted, prefix="holes", initial=holes, **options)
        self.bends = BendFormSet(posted, prefix="bends", initial=bends, **options)

    def is_valid(self) -> bool:
        """Whether all three make sense; each says what does not."""
        return all([self.part.is_valid(), self.holes.is_valid(), self.bends.is_valid()])

    def plain(self) -> dict[str, Any]:
        """The fields as the action takes them."""
        return self.part.plain() | {"holes": rows_of(self.holes), "bends": bends_of(self.bends)}

    def refuse(self, refused: StationsRefused) -> None:
        """Say it beside the field, or above the form."""
        field = refused.field if refused.field in self.part.fields else None
        self.part.add_error(field, str(refused))


@WRITES
@guard(Permission.EDIT_SHEETS)
def add(request: ShopRequest) -> HttpResponse:
    """A new part."""
    forms = PartForms(request)
    if request.method == "POST" and forms.is_valid():
        try:
            row = actions.add_part(shop=request.shop, fields=forms.plain())
            messages.success(request, f"{row} is drawn.")
            return redirect("stations:part", shop=request.shop.slug, pk=row.pk)
        except StationsRefused as refused:
            forms.refuse(refused)
    return _page(request, forms, None)


@WRITES
@guard(Permission.EDIT_SHEETS)
def part(request: ShopRequest, pk: int) -> HttpResponse:
    """A part drawn anew; sheets in force keep the drawing they had."""
    row = get_object_or_404(Part.objects.select_related("item", "stock"), shop=request.shop, pk=pk)
    forms = PartForms(request, row)
    if request.method == "POST" and forms.is_valid():
        try:
            actions.edit_part(part=row, fields=forms.plain())
            messages.success(request, f"{row}: kept. Drafts show it; sheets in force do not.")
            return redirect("stations:part", shop=request.shop.slug, pk=pk)
        except StationsRefused as refused:
            row.refresh_from_db()
            forms.refuse(refused)
    return _page(request, forms, row)


@require_POST
@guard(Permission.EDIT_SHEETS)
def check(request: ShopRequest) -> HttpResponse:
    """What the checks say of what is typed so far, with the drawing; nothing is kept."""
    # Checked as itself, else its own item would seem taken.
    known = request.GET.get("part", "")
    row = Part.objects.filter(shop=request.shop, pk=known).first() if known.isdigit() else None
    forms = PartForms(request, row)
    looked = queries.look_at_part(request.shop, forms.plain()) if forms.is_valid() else None
    return render(request, "stations/_check.html", {"looked": looked, "forms": _told(forms)})


def _told(forms: PartForms) -> list[tuple[str, str]]:
    told = [
        (str(form.fields[name].label if name in form.fields else "Part"), str(error))
        for form in [forms.part, *forms.holes.forms, *forms.bends.forms]
        for name, errors in form.errors.items()
        for error in errors
    ]
    return [(label, error) for label, error in told if "required" not in error]


def _page(request: ShopRequest, forms: PartForms, row: Part | None) -> HttpResponse:
    page = {
        "forms": forms,
        "part": row,
        "sheets": row.build_sheets.all() if row else [],
        "looked": queries.look_at_row(row) if row else None,
    }
    status = 422 if forms.part.is_bound else 200
    return render(request, "stations/part.html", page, status=status)
