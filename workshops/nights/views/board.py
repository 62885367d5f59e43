"""The board: who stands where, and the engine that places everybody."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.contrib import messages
from django.http import HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.common.jobs import start
from workshops.nights import queries
from workshops.nights.board import board_for
from workshops.nights.changes import Step, steps_of, told
from workshops.nights.finding import night_or_404, to_night
from workshops.nights.lost import lost_by_a_no
from workshops.nights.models import Block, Change, Night
from workshops.nights.permit.queries import moved_lock_up, unread_before
from workshops.nights.rest import has_begun
from workshops.nights.teaching import training_on


def board_context(row: Night) -> dict[str, Any]:
    """What the board itself shows: the placings, what is wrong, what can be taken back."""
    board, steps = board_for(row), steps_of(row)
    stations = {station.pk: station.name for station in board.loaded.stations}
    blocks = {block.pk: block for block in board.blocks}

    def words(change: Change | None) -> Step | None:
        return told(change, names=board.names, stations=stations, blocks=blocks) if change else None

    return {
        "night": row,
        "board": board,
        "back": words(steps.back),
        "again": words(steps.again),
        "latest": [words(each) for each in steps.latest],
    }


@guard(Permission.SEE_NIGHTS)
def night(request: ShopRequest, on: date) -> HttpResponse:
    """Can we run, who stands where, what breaks a rule, what will be made."""
    row = night_or_404(request.shop, on)
    context = board_context(row)
    board = context["board"]
    context |= {
        "last_spark": queries.last_spark_of(row, board.loaded.register.rules.watch_minutes),
        "expected": queries.expected_of(row.plan),
        "training": training_on(row, board.names, board.loaded.placings),
        "expected_sets": queries.expected_sets(row.plan),
        "first_come": queries.first_come_of(row.plan),
        "plan_starts": _starts_of(row, board.blocks),
        "has_begun": has_begun(board.blocks, row, timezone.now()),
        **_at_the_ends(row),
        "lost": lost_by_a_no(board) if row.status == Night.Status.PLANNED else [],
    }
    return render(request, "nights/night.html", context)


def _at_the_ends(row: Night) -> dict[str, object]:
    """What the opener must read and the closer must know, while the night is on."""
    if row.status != Night.Status.PLANNED:
        return {}
    return {"before_unread": unread_before(row), "lock_up_moved": moved_lock_up(row)}


def _starts_of(night: Night, blocks: list[Block]) -> Block | None:
    """The block that the plan of the rest of a night began with; none for a whole night."""
    first = night.plan.from_block if night.plan else 0
    return blocks[first] if 0 < first < len(blocks) else None


@require_POST
@guard(Permission.RUN_NIGHT)
def plan(request: ShopRequest, on: date) -> HttpResponse:
    """Have the engine place everybody; a job, with its page."""
    row = night_or_404(request.shop, on)
    blocks = list(row.blocks.all())
    if has_begun(blocks, row, timezone.now()) and row.placings.exists():
        messages.info(request, "The night has begun: what is over stays. Place the rest again.")
        return to_night(row, page="nights:rest")
    keeping = request.POST.get("anew") != "yes"
    job = start("plan_night", shop=request.shop, by=request.user, night=row.pk, keeping=keeping)
    return HttpResponseRedirect(reverse("common:job", args=[request.shop.slug, job.pk]))
