"""The main job, one function a step: place, cut, count what runs out, look ahead, print."""

from __future__ import annotations

import shutil
from pathlib import Path

from django.utils import timezone

from inventory.cutting.queries import cut_list_of
from inventory.needs.queries import needs_in
from workshops.home.demo.job import Bench, Said, Step
from workshops.nights import actions as nights
from workshops.nights.board import BoardView, board_for
from workshops.nights.models import Night
from workshops.nights.queries import expected_of, expected_sets, next_night
from workshops.paper import actions as paper
from workshops.paper.models import Paper
from workshops.season import actions as season
from workshops.season.queries import winter_of
from workshops.season.showing import stored
from workshops.stock.asking import ask
from workshops.stock.tonight import make_cut_lists
from workshops.stock.wanted import wanted_sets

NO_NIGHT = "No night is planned. Start with: python3 manage.py demo --fresh"


def _night(bench: Bench) -> Night | None:
    return next_night(bench.shop, timezone.now())


def placings(bench: Bench) -> Said:
    """Place everybody for the next night, and say who stands where."""
    night, winter = _night(bench), winter_of(bench.shop, bench.today)
    if night is None or winter is None:
        return Said([NO_NIGHT])
    run, kept = night.plan, " It is kept, with what was moved since."
    if run is None:
        season.publish_aims(winter=winter)
        run, kept = nights.plan_night(night=night, by=None), ""
    board = board_for(Night.objects.select_related("plan", "shop").get(pk=night.pk))
    sets = expected_sets(run)
    return Said(
        [
            f"{night}: {night.get_kind_display()}, {board.expected_count} people expected.",
            f"The plan is {run.get_status_display()}: about {sets} more complete sets.{kept}",
            *_who(board),
        ]
    )


def _who(board: BoardView) -> list[str]:
    lines = []
    for row in board.open_rows:
        lines.append(f"{row.station.name}:")
        for cell in row.cells:
            names = ", ".join(_spoken(seat.name, seat.placing.role) for seat in cell.seats)
            lines.append(f"    {cell.block}  {names or 'closed'}")
    return lines


def _spoken(name: str, role: str) -> str:
    return {"learns": f"{name} (learns)", "leads": f"{name} (leads)"}.get(role, name)


def closed(bench: Bench) -> Said:
    """Which stations stay closed, and why; what the plan will make."""
    night = _night(bench)
    if night is None:
        return Said([NO_NIGHT])
    board = board_for(night)
    lines = [f"{row.station.name}: {row.reason}" for row in board.closed_rows]
    made = [f"{row.rounded} × {row.operation}" for row in expected_of(night.plan)]
    rules = [breach.message for breach in board.breaches] or ["No rule of the club stops the plan."]
    return Said([*lines, *rules, f"Expected: {', '.join(made)}."])


def cut_list(bench: Bench) -> Said:
    """What to cut from which stick tonight."""
    night = _night(bench)
    if night is None:
        return Said([NO_NIGHT])
    runs = make_cut_lists(night=night, by=None)
    lines: list[str] = []
    for run in runs:
        lines += [f"{run.item.name}:", *(f"    {each}" for each in cut_list_of(run).sentences)]
    if not runs:
        return Said(["Nothing is cut tonight."])
    made = paper.make_cut_list(runs=runs, at=timezone.now())
    return Said(lines, [_copied(made, bench.folder, "cut-list.pdf")])


def runs_out(bench: Bench) -> Said:
    """Complete sets possible now, what runs out first, what to buy by when."""
    wanted = wanted_sets(bench.shop, bench.today)
    run = ask(shop=bench.shop, wanted=wanted, today=bench.today, by=None)
    return Said(needs_in(run).sentences)


def outlook(bench: Bench) -> Said:
    """Whether the winter's target will be met, as a band."""
    winter = winter_of(bench.shop, bench.today)
    if winter is None:
        return Said([NO_NIGHT])
    run = season.work_out_outlook(winter=winter, today=bench.today, by=None)
    made = paper.make_outlook_picture(run=run, at=timezone.now())
    return Said(stored(run).explain(), [_copied(made, bench.folder, "outlook.svg")])


def cards(bench: Bench) -> Said:
    """The station cards of the night."""
    night = _night(bench)
    if night is None:
        return Said([NO_NIGHT])
    made = paper.make_cards(night=night, at=timezone.now())
    lines = [f"{made.pages} cards, one for each station that opens."]
    return Said(lines, [_copied(made, bench.folder, "station-cards.pdf")])


def _copied(made: Paper, folder: Path, name: str) -> Path:
    path = folder / name
    with made.file.open("rb") as source, path.open("wb") as copy:
        shutil.copyfileobj(source, copy)
    return path


STEPS: tuple[Step, ...] = (
    Step("Tonight's placings", placings),
    Step("Stations that stay closed, and what will be made", closed),
    Step("The cut list", cut_list),
    Step("What runs out first, and what to buy", runs_out),
    Step("The outlook for the winter", outlook),
    Step("The station cards", cards),
)
