"""The night from now on: the rest placed again, other times, two plans side by side."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.contrib import messages
from django.http import HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.nights import actions
from workshops.nights.changes import steps_of
from workshops.nights.clock import minutes
from workshops.nights.comparing import (
    BOARD,
    Bench,
    Side,
    compare,
    stands_before,
    stands_now,
    stands_of_run,
)
from workshops.nights.finding import night_or_404, to_night
from workshops.nights.forms_times import BlockRows, TimesForm
from workshops.nights.loading import load, load_making
from workshops.nights.models import Change, Night
from workshops.nights.refusals import NightRefused
from workshops.nights.rest import rest_of
from workshops.people.names import short_names

LATEST_RUNS = 8


@guard(Permission.RUN_NIGHT)
def rest(request: ShopRequest, on: date) -> HttpResponse:
    """Place the rest of the night again, from this minute."""
    row, now = night_or_404(request.shop, on), timezone.now()
    keeps_current = request.POST.get("current") != "again"
    if request.method == "POST":
        try:
            actions.replan_rest(night=row, by=request.user, at=now, keeps_current=keeps_current)
        except NightRefused as refused:
            messages.error(request, str(refused))
            return to_night(row, page="nights:rest")
        address = reverse("nights:compare", args=[row.shop.slug, row.date])
        return HttpResponseRedirect(f"{address}?before=step&after={BOARD}")
    context = {"night": row, "now": timezone.localtime(now), **_left(row)}
    return render(request, "nights/rest.html", context)


def _left(night: Night) -> dict[str, Any]:
    """What a plan of the rest would count on, or why there is none."""
    loaded, now = load(night), timezone.now()
    names = short_names(loaded.register.people.values())
    try:
        found = rest_of(loaded, now, keeps_current=False)
    except NightRefused as refused:
        return {"refused": str(refused)}
    counted = [each for each in found.loaded.coming if each.is_expected]
    return {
        "blocks": found.loaded.blocks,
        "running": next((b for b in found.loaded.blocks if minutes(b.starts) < found.now), None),
        "inside": sum(each.is_in for each in counted),
        "later": [names[each.person_id] for each in counted if not each.is_in],
        "missing": [names[each.person_id] for each in found.missing],
    }


@guard(Permission.RUN_NIGHT)
def times(request: ShopRequest, on: date) -> HttpResponse:
    """Stop earlier, lock up later, work in other blocks."""
    row = night_or_404(request.shop, on)
    form = TimesForm(request.POST or None, initial={
        "doors": row.doors, "stop": row.stop, "lock_up": row.lock_up,
    })  # fmt: skip
    blocks = BlockRows(row, request.POST or None)
    if request.method == "POST" and form.is_valid() and blocks.is_valid():
        try:
            done = actions.set_times(
                night=row, blocks=blocks.stretches, at=timezone.now(), **form.cleaned_data
            )
        except NightRefused as refused:
            form.add_error(None, str(refused))
        else:
            lost = f" {done.lost} placings went with blocks that are gone." if done.lost else ""
            messages.success(request, f"The times are changed.{lost} Look at the board again.")
            return to_night(row)
    status = 422 if request.method == "POST" else 200
    return render(
        request, "nights/times.html", {"night": row, "form": form, "blocks": blocks}, status=status
    )


@guard(Permission.RUN_NIGHT)
def compare_plans(request: ShopRequest, on: date) -> HttpResponse:
    """Two plans of the night side by side, on the facts of now."""
    row = night_or_404(request.shop, on)
    loaded = load(row)
    names = short_names(loaded.register.people.values())
    problem = loaded.problem(making=load_making(row.shop))
    bench = Bench.of(loaded, problem, timezone.now(), names)
    choices = _choices(row)
    keys = list(choices)
    before = request.GET.get("before", "")
    after = request.GET.get("after", BOARD)
    # The plan before the one that stands, where there is one, is what people ask about.
    before = before if before in choices else next((k for k in keys if k not in (BOARD, after)), "")
    after = after if after in choices else BOARD
    context: dict[str, Any] = {
        "night": row, "choices": choices.items(), "before": before, "after": after,
    }  # fmt: skip
    if before and before != after:
        sides = [_side(bench, row, key, str(choices[key])) for key in (before, after)]
        context["compared"] = compare(bench, *sides)
        context["from_now"] = loaded.blocks[bench.first] if bench.first else None
    return render(request, "nights/compare.html", context)


def _choices(night: Night) -> dict[str, str]:
    """What can be compared, by the word in the address."""
    found = {BOARD: "The board as it stands"}
    back = steps_of(night).back
    if back:
        found["step"] = f"Before the latest step ({back.get_kind_display()})"
    for run in night.runs.order_by("-pk")[:LATEST_RUNS]:
        stands = ", which the board came from" if run.pk == night.plan_id else ""
        found[f"run-{run.pk}"] = f"The plan of {timezone.localtime(run.made_at):%H:%M}{stands}"
    return found


def _side(bench: Bench, night: Night, key: str, label: str) -> Side:
    loaded = bench.loaded
    if key == BOARD:
        return bench.side(label, stands_now(loaded))
    if key == "step":
        step = steps_of(night).back
        assert isinstance(step, Change)
        return bench.side(label, stands_before(step, loaded))
    run = night.runs.get(pk=int(key.removeprefix("run-")))
    return bench.side(label, stands_of_run(run, loaded))
