"""Where do we saw, and what is cut already?"""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from inventory.cutting import queries
from inventory.cutting.actions import (
    CutListRefused,
    CutRefused,
    Done,
    carry_on,
    cut,
    cut_unlike,
    take_back,
)
from inventory.cutting.models import CutListRun, CutTick
from inventory.cutting.queries import Strip, strips_of
from inventory.ledger.actions import PostingRefused
from inventory.measures.lengths import spell_length
from inventory.places.queries import places_of
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.access.roles import permissions_of
from workshops.stock.forms.ticking import ALL, BACK, TickForm, UnlikeForm
from workshops.stock.sawing import sawing_of


@require_GET
@guard(Permission.SEE_STOCK)
def cut_list(request: ShopRequest, pk: int) -> HttpResponse:
    """One list: drawn to scale with saw marks, ticked off pattern by pattern."""
    run = _run(request, pk)
    sawing = sawing_of(run, timezone.now())
    form = TickForm(places=places_of(request.shop), last=sawing.latest)
    may_post = Permission.POST_STOCK in permissions_of(request.member.role)
    page = {"run": run, "sawing": sawing, "told": sawing.told, "form": form}
    page["can_tick"] = may_post and not run.replaced_by_id
    return render(request, "stock/cut_list.html", page)


@require_POST
@guard(Permission.POST_STOCK)
def tick(request: ShopRequest, pk: int) -> HttpResponse:
    """Cut one, cut all, or take one back; then the list again, at the pattern."""
    run = _run(request, pk)
    form = TickForm(request.POST, places=places_of(request.shop))
    if not form.is_valid():
        messages.error(request, "That press was not understood. Look at the list and press again.")
        return redirect("stock:cut_list", shop=request.shop.slug, pk=run.pk)
    try:
        pattern, says = _ticked(request, run, form)
    except (CutRefused, PostingRefused) as refused:
        messages.error(request, str(refused))
        return redirect("stock:cut_list", shop=request.shop.slug, pk=run.pk)
    messages.success(request, says)
    return _at(run, pattern)


@require_http_methods(["GET", "POST"])
@guard(Permission.POST_STOCK)
def unlike(request: ShopRequest, pk: int) -> HttpResponse:
    """A stick that was short or damaged: the book learns, the list can be worked out anew."""
    run = _run(request, pk)
    pattern, strip = _asked_pattern(request, run)
    form = UnlikeForm(request.POST or None, strip=strip, units=request.shop.length_units)
    if request.method == "POST" and form.is_valid() and _told(request, run, pattern, form):
        return _at(run, pattern)
    page = {"run": run, "form": form, "strip": strip, "number": pattern + 1}
    return render(request, "stock/other_stick.html", page, status=422 if form.is_bound else 200)


@require_POST
@guard(Permission.POST_STOCK)
def rest(request: ShopRequest, pk: int) -> HttpResponse:
    """Work the rest of the list out anew, from what lies there now."""
    run = _run(request, pk)
    try:
        run = carry_on(run, by=request.user)
        messages.success(request, "This list has what is still missing. The one before is kept.")
    except CutListRefused as refused:
        messages.error(request, str(refused))
    return redirect("stock:cut_list", shop=request.shop.slug, pk=run.pk)


def _run(request: ShopRequest, pk: int) -> CutListRun:
    run = queries.cut_lists_of(request.shop).select_related("shop", "item__home").filter(pk=pk)
    found = run.first()
    if found is None:
        raise Http404("There is no such cut list in this shop.")
    return found


def _asked_pattern(request: ShopRequest, run: CutListRun) -> tuple[int, Strip]:
    strips, asked = strips_of(run), request.GET.get("pattern", "")
    # In the question and not in the address: a pattern is a line of the list, not a row.
    if not asked.isdecimal() or int(asked) >= len(strips):
        raise Http404("There is no such pattern on this list.")
    return int(asked), strips[int(asked)]


def _at(run: CutListRun, pattern: int) -> HttpResponse:
    """Back to the list, at the pattern."""
    return redirect(f"{reverse('stock:cut_list', args=[run.shop.slug, run.pk])}#p{pattern + 1}")


def _ticked(request: ShopRequest, run: CutListRun, form: TickForm) -> tuple[int, str]:
    """Write the press in the book; the pattern, and what to say about it."""
    if form.act == BACK:
        return _taken_back(request, run, form)
    given = form.cleaned_data
    done = Done(
        by=request.user, at=timezone.now(), client_key=form.client_key,
        piece_place=given["pieces"], drop_place=given["drops"],
    )  # fmt: skip
    made = cut(run=run, pattern=form.number, sticks=None if form.act == ALL else 1, done=done)
    sticks = "1 stick" if made.sticks == 1 else f"{made.sticks} sticks"
    return made.pattern, f"{sticks} cut.{_label(made)}"


def _label(tick: CutTick) -> str:
    """What to write on the drop, so that it is found again."""
    if not tick.drop_number:
        return ""
    length = spell_length(tick.drop_um, tick.shop.length_units)
    return f" Write D{tick.drop_number} and {length} on the drop, and put it at {tick.drop_place}."


def _taken_back(request: ShopRequest, run: CutListRun, form: TickForm) -> tuple[int, str]:
    found = run.ticks.select_related("run__item", "entry", "shop").filter(pk=form.number).first()
    if found is None:
        raise CutRefused("There is no such tick on this list.")
    take_back(found, by=request.user, at=timezone.now(), client_key=form.client_key)
    sticks = "1 stick" if found.sticks == 1 else f"{found.sticks} sticks"
    return found.pattern, f"Taken back: {sticks}."


def _told(request: ShopRequest, run: CutListRun, pattern: int, form: UnlikeForm) -> bool:
    done = Done(by=request.user, at=timezone.now(), client_key=form.cleaned_data["key"])
    try:
        made = cut_unlike(run=run, pattern=pattern, unlike=form.unlike(), done=done)
    except (CutRefused, PostingRefused) as refused:
        form.add_error(None, str(refused))
        return False
    messages.success(request, f"The book knows that stick now.{_label(made)}")
    return True
