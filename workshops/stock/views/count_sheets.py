"""One place: how many lie there, do the two counts agree, and where does it come from?"""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from inventory.stocktake import actions, queries
from inventory.stocktake.clues import clues_of, sizes_of
from inventory.stocktake.models import CountLine, CountSheet, Look, Turn
from inventory.stocktake.progress import Progress
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.stock.forms.stocktake import AloneForm, ReasonsForm, SheetForm


@require_http_methods(["GET", "POST"])
@guard(Permission.POST_STOCK)
def count(request: ShopRequest, sheet: int, turn: int) -> HttpResponse:
    """Boxes without anybody else's numbers; kept as they are typed, done when it is said."""
    found = _sheet(request, sheet)
    progress = Progress(found, ())
    look = progress.look(turn)
    is_over = found.posted_at or found.stocktake.closed_at
    if is_over or (look and look.done_at and turn != Turn.THIRD):
        return redirect("stock:count_sheet", shop=request.shop.slug, sheet=sheet)
    form = _form(request, found, turn, look)
    done = request.method == "POST" and _keep(request, found, form)
    if request.htmx:
        return render(request, "stock/_kept.html", {"form": form, "is_kept": done})
    if done:
        return _after(request, found, turn)
    page = {"sheet": found, "form": form, "turn": Turn(turn), "look": look}
    return render(request, "stock/count_lines.html", page, status=422 if form.is_bound else 200)


def _form(request: ShopRequest, sheet: CountSheet, turn: int, look: Look | None) -> SheetForm:
    """The boxes of a turn, under the name of whoever began it or has signed in."""
    name = look.counter if look else request.user.signs_as
    return SheetForm(
        request.POST or None, shop=request.shop, lines=queries.lines_for(sheet, turn), turn=turn,
        initial={"counter": name},
    )  # fmt: skip


def _keep(request: ShopRequest, sheet: CountSheet, form: SheetForm) -> bool:
    """Write what was counted; done as well when that was pressed. False when refused."""
    if not form.is_valid():
        return False
    at = form.cleaned_data["counted_at"] or timezone.now()
    try:
        actions.put_count(
            sheet=sheet, turn=form.turn, counter=form.by_whom(), counts=form.counts(),
            # A find half typed is no find yet, so it waits for the button.
            finds=[] if request.htmx else form.finds(), by=request.user, at=at,
        )  # fmt: skip
        if "done" in request.POST:
            actions.finish_look(sheet=sheet, turn=form.turn, at=at)
    except actions.StocktakeRefused as refused:
        form.add_error(None, str(refused))
        return False
    return True


def _after(request: ShopRequest, sheet: CountSheet, turn: int) -> HttpResponse:
    if "done" in request.POST:
        messages.success(request, f"The {Turn(turn).label} of {sheet.place} is done.")
        return redirect("stock:count_sheet", shop=request.shop.slug, sheet=sheet.pk)
    messages.success(request, "Kept. Go on, or say that it is done.")
    return redirect(request.path)


@require_http_methods(["GET", "POST"])
@guard(Permission.POST_STOCK)
def sheet(request: ShopRequest, sheet: int) -> HttpResponse:
    """Where the two counts differ; with the book open, where it differs, and why."""
    found = _sheet(request, sheet)
    progress = Progress(found, tuple(queries.compared(found)))
    form = ReasonsForm(request.POST or None, lines=[row.line for row in progress.off])
    if request.method == "POST" and _explain(request, found, form):
        return redirect("stock:count_sheet", shop=request.shop.slug, sheet=sheet)
    page = _compared(progress, form) | {"alone": AloneForm()}
    return render(request, "stock/count_sheet.html", page, status=422 if form.errors else 200)


def _compared(progress: Progress, form: ReasonsForm) -> dict[str, Any]:
    """What the page of a sheet shows; nothing of the book before it is opened."""
    found = progress.sheet
    is_open = found.book_opened_at is not None
    sizes = sizes_of(progress.lines, found.place) if is_open else {}
    boxes = form.boxes()
    off = [(row, sizes[row.line.pk], boxes[row.line.pk]) for row in progress.off] if is_open else []
    return {"sheet": found, "progress": progress, "is_open": is_open, "off": off, "form": form}


def _explain(request: ShopRequest, sheet: CountSheet, form: ReasonsForm) -> bool:
    """Keep the reasons, and post when that was pressed."""
    if not form.is_valid():
        return False
    try:
        actions.explain(sheet=sheet, reasons=form.reasons())
        if "post" not in request.POST:
            messages.success(request, "The reasons are kept.")
            return True
        entries = actions.post_sheet(sheet=sheet, by=request.user, at=timezone.now())
    except actions.StocktakeRefused as refused:
        form.add_error(None, str(refused))
        return False
    says = f"{len(entries)} difference{'s are' if len(entries) != 1 else ' is'} in the book."
    messages.success(request, f"{sheet.place} is posted. " + (says if entries else "All agreed."))
    return True


@require_POST
@guard(Permission.EDIT_STOCK)
def open_book(request: ShopRequest, sheet: int) -> HttpResponse:
    """Show the book's figures, after both counts."""
    found = _sheet(request, sheet)
    try:
        actions.open_book(sheet=found, by=request.user, at=timezone.now())
    except actions.StocktakeRefused as refused:
        messages.error(request, str(refused))
    return redirect("stock:count_sheet", shop=request.shop.slug, sheet=sheet)


@require_POST
@guard(Permission.EDIT_STOCK)
def count_alone(request: ShopRequest, sheet: int) -> HttpResponse:
    """Let one person count twice, and say why."""
    found = _sheet(request, sheet)
    try:
        reason = request.POST.get("reason", "")[:200]
        actions.let_count_alone(sheet=found, reason=reason, by=request.user)
        messages.success(request, "One person may count this place twice; the reason is shown.")
    except actions.StocktakeRefused as refused:
        messages.error(request, str(refused))
    return redirect("stock:count_sheet", shop=request.shop.slug, sheet=sheet)


@require_GET
@guard(Permission.POST_STOCK)
def clues(request: ShopRequest, line: int) -> HttpResponse:
    """Everything that moved since the last count, beside the difference."""
    found = _line(request, line)
    if found.sheet.book_opened_at is None:
        raise Http404("The book of this sheet is not open yet.")
    rows = [row for each in queries.progress_of(found.sheet.stocktake) for row in each.lines]
    row = next(each for each in rows if each.line.pk == line)
    beside = [each for each in rows if each.line.sheet.book_opened_at]
    size = sizes_of([row], found.sheet.place).get(line)
    page = {"line": found, "row": row, "size": size}
    page |= {"clues": clues_of(row, found.sheet.place, beside)}
    return render(request, "stock/clues.html", page)


@require_POST
@guard(Permission.POST_STOCK)
def doubt(request: ShopRequest, line: int) -> HttpResponse:
    """Ask for a third look at one line."""
    found = _line(request, line)
    try:
        actions.doubt(line=found)
        messages.success(request, f"{found.item}: a third look is asked for.")
    except actions.StocktakeRefused as refused:
        messages.error(request, str(refused))
    return redirect("stock:count_sheet", shop=request.shop.slug, sheet=found.sheet_id)


def _sheet(request: ShopRequest, pk: int) -> CountSheet:
    found = queries.sheet_of(request.shop, pk)
    if found is None:
        raise Http404("There is no such count sheet in this shop.")
    return found


def _line(request: ShopRequest, pk: int) -> CountLine:
    found = queries.line_of(request.shop, pk)
    if found is None:
        raise Http404("There is no such line in this shop.")
    return found
