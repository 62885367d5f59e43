"""What is to be checked now, and writing down what was found."""

from __future__ import annotations

import uuid
from datetime import date
from typing import Any

from django.contrib import messages
from django.db.models import QuerySet
from django.http import HttpResponse, HttpResponseRedirect
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.cache import cache_control
from django.views.decorators.http import require_GET

from inventory.ledger.actions import PostingRefused
from inventory.measures.lengths import LengthRefused, read_length
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.club.queries import rules_of
from workshops.nights.finding import night_or_404, to_night
from workshops.nights.models import Night
from workshops.nights.queries import in_the_building, names_in
from workshops.quality import queries
from workshops.quality.actions import CheckRefused, Finding, check_piece
from workshops.quality.batches import batch_of, who_made
from workshops.quality.forms import WELD_WORDS, CheckForm
from workshops.quality.measuring import measures_of
from workshops.quality.models import Check
from workshops.stations.geometry.gauging import gauge
from workshops.stations.models import Operation


# Never shown again from the browser's memory: an old page would send its old keys.
@cache_control(no_store=True)
@guard(Permission.RUN_NIGHT)
def checks(request: ShopRequest, on: date) -> HttpResponse:
    """Everything that is due, a press for each good piece, what was found, what is held."""
    night = night_or_404(request.shop, on)
    if request.method == "POST":
        _good_at_a_press(request, night)
        return _back(night)
    due = [(each, uuid.uuid4()) for each in queries.due_tonight(night, rules_of(night.shop))]
    page = {
        "night": night,
        "lines": [pair for pair in due if pair[0].is_begun],
        "first": [pair for pair in due if not pair[0].is_begun and pair[0].kind == "first"],
        "found": list(queries.checks_of(night)),
        "batches": queries.held_of(night),
        **_who(request, night),
    }
    return render(request, "quality/checks.html", page)


def _good_at_a_press(request: ShopRequest, night: Night) -> None:
    """One button says it all: which operation, which check, and its own key."""
    operation, _, rest = request.POST.get("press", "").partition(" ")
    kind, _, key = rest.partition(" ")
    try:
        row = _operations(request).get(pk=int(operation))
        found = Finding(
            kind=Check.Kind(kind), is_good=True, client_key=uuid.UUID(key),
            checked_by=request.POST.get("checked_by", ""),
            how=Check.How.GAUGE if row.gauge else Check.How.EYE,
        )  # fmt: skip
        check_piece(night=night, operation=row, found=found, by=request.user, at=timezone.now())
    except (CheckRefused, PostingRefused) as refused:
        messages.error(request, f"Nothing was written down. {refused}")
    except (ValueError, Operation.DoesNotExist):
        messages.error(request, "Nothing was written down: press Good beside a piece.")
    else:
        messages.success(request, f"{row.name}: {Check.Kind(kind).label} good.")


@cache_control(no_store=True)
@guard(Permission.RUN_NIGHT)
def check(request: ShopRequest, on: date, operation: int) -> HttpResponse:
    """One check: the card's own words, the measure with the drawing's judgement, good or bad."""
    night, row = night_or_404(request.shop, on), _operation(request, operation)
    asked = request.POST if request.method == "POST" else request.GET
    kind = asked.get("kind", "")
    kind = kind if kind in Check.Kind.values else Check.Kind.NTH
    wrong = _corrected(row, kind, asked.get("corrects", ""))
    measures = measures_of(row, rules_of(request.shop)) if kind != Check.Kind.BREAK else ()
    form = CheckForm(
        request.POST or None, measures=measures, units=request.shop.length_units,
        initial={"kind": kind, "from_rack": kind == Check.Kind.BREAK},
    )  # fmt: skip
    if request.method == "POST" and form.is_valid():
        done = _written(request, night, row, form, wrong)
        if done is not None:
            return done
    page = {"night": night, "operation": row, "form": form, "measures": measures, "wrong": wrong}
    page |= _standing(night, row, kind) | _who(request, night)
    return render(request, "quality/check.html", page, status=422 if form.errors else 200)


def _written(
    request: ShopRequest, night: Night, row: Operation, form: CheckForm, wrong: Check | None
) -> HttpResponse | None:
    try:
        found = check_piece(
            night=night, operation=row, found=form.finding(), by=request.user, at=timezone.now(),
            corrects=wrong,
        )  # fmt: skip
    except (CheckRefused, PostingRefused) as refused:
        field = getattr(refused, "field", "") or None
        form.add_error(field if field in form.fields else None, str(refused))
        return None
    held = found.held.first()
    if held is not None:
        return to_night(night, "quality:held", held.pk)
    told = "good" if found.is_good else "bad"
    messages.success(request, f"{row.name}: {found.get_kind_display()} {told}, written down.")
    return _back(night)


def _standing(night: Night, row: Operation, kind: str) -> dict[str, Any]:
    now = timezone.now()
    batch = batch_of(night, row, kind)
    return {
        "kind": Check.Kind(kind), "batch": batch, "is_break": kind == Check.Kind.BREAK,
        "makers": who_made(night, row, batch.since if _is_of(night, batch.back_to) else None, now),
        "share": queries.share_of(row, kind, now), "weld_words": WELD_WORDS,
        "is_rework": kind == Check.Kind.REWORK,
    }  # fmt: skip


def _is_of(night: Night, check: Check | None) -> bool:
    return check is not None and check.night_id == night.pk


@require_GET
@guard(Permission.RUN_NIGHT)
def judge(request: ShopRequest, on: date, operation: int) -> HttpResponse:
    """What the drawing says of a value, while it is typed; a fragment."""
    night_or_404(request.shop, on)
    row = _operation(request, operation)
    measures = measures_of(row, rules_of(request.shop))
    place, text = request.GET.get("measure", "0"), request.GET.get("value", "")
    chosen = int(place) if place.isdecimal() and int(place) < len(measures) else 0
    judged, refused = None, ""
    try:
        value = read_length(text, request.shop.length_units) if text.strip() else 0
        judged = gauge(measures[chosen], value, request.shop.length_units) if value else None
    except (LengthRefused, ValueError, IndexError) as why:
        refused = str(why)
    return render(request, "quality/_judged.html", {"judged": judged, "refused": refused})


def _operations(request: ShopRequest) -> QuerySet[Operation]:
    return Operation.objects.filter(shop=request.shop).select_related(
        "station", "recipe__output__home", "part__item", "part__stock", "shop"
    )


def _operation(request: ShopRequest, pk: int) -> Operation:
    return get_object_or_404(_operations(request), pk=pk)


def _corrected(row: Operation, kind: str, pk: str) -> Check | None:
    """The check to put right: the last of its line, else none."""
    last = queries.last_of_line(row, kind)
    return last if last is not None and pk == str(last.pk) else None


def _who(request: ShopRequest, night: Night) -> dict[str, Any]:
    """Whose name stands under a check, and the names to choose from: who is in the building."""
    names = names_in(request.shop)
    return {
        "me": request.user.signs_as,
        "inside": [names[line.person_id] for line in in_the_building(night)],
    }


def _back(night: Night) -> HttpResponseRedirect:
    return to_night(night, "quality:checks")
