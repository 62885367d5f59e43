"""Jobs of the slice: each takes ids and calls one action."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django.urls import reverse
from django.utils import timezone

from inventory.deliveries.models import Order
from inventory.stocktake.queries import stocktake_of
from workshops.common.jobs import Running, job
from workshops.nights.models import Night
from workshops.paper import actions, queries
from workshops.paper.labels import labels_for
from workshops.paper.models import Paper
from workshops.paper.refusals import PaperRefused
from workshops.paper.scrubbing import scrub_papers
from workshops.paper.second_language import LANGUAGES
from workshops.people.erasing import also_erase

also_erase(scrub_papers)


@job("make_cards", title="Make the station cards", refusals=(PaperRefused,))
def make_cards(running: Running, *, night: int, back: str = "") -> dict[str, Any]:
    """The station cards of a night, with or without a second language on the back."""
    row = Night.objects.select_related("shop", "plan").get(pk=night, shop=running.shop)
    running.say(10, "drawing the cards")
    paper = actions.make_cards(night=row, at=timezone.now(), back=back)
    if back:
        many = paper.pages // 2
        return _made(paper, f"{many} cards are ready, {LANGUAGES[back]} behind: print both sides.")
    return _made(paper, f"{paper.pages} cards are ready to print.")


@job("print_cut_list", title="Print the cut list", refusals=(PaperRefused,))
def print_cut_list(
    running: Running, *, night: int = 0, lists: Sequence[int] = ()
) -> dict[str, Any]:
    """The cut lists of a night, or those chosen, on one paper."""
    running.say(10, "drawing the sticks")
    if lists:
        runs = queries.cut_lists_chosen(running.shop, lists)
    else:
        row = Night.objects.get(pk=night, shop=running.shop)
        runs = queries.cut_lists_for(running.shop, row)
    paper = actions.make_cut_list(runs=runs, at=timezone.now())
    return _made(paper, "The cut list is ready to print.")


@job("print_outlook", title="Print the outlook", refusals=(PaperRefused,))
def print_outlook(running: Running) -> dict[str, Any]:
    """The latest outlook of the winter."""
    run = queries.outlook_for(running.shop, timezone.localdate())
    if run is None:
        raise PaperRefused("No outlook was worked out yet. Work it out under Winter first.")
    running.say(10, "drawing the winter")
    paper = actions.make_outlook_page(run=run, at=timezone.now())
    return _made(paper, "The outlook is ready to print.")


@job("print_labels", title="Print the labels", refusals=(PaperRefused,))
def print_labels(
    running: Running, *, what: str, site: str, size: str, start: int = 1,
    place: int | None = None, items: Sequence[int] = (),
) -> dict[str, Any]:  # fmt: skip
    """The labels of places, items or drops."""
    found = labels_for(running.shop, what, site=site, place=place, items=items)
    running.say(10, f"drawing {len(found)} labels")
    paper = actions.make_labels(
        shop=running.shop, labels=found, size=size, start=start, at=timezone.now()
    )
    return _made(paper, f"{len(found)} labels are ready to print.")


@job("print_count_sheets", title="Print the count sheets", refusals=(PaperRefused,))
def print_count_sheets(running: Running, *, stocktake: int) -> dict[str, Any]:
    """The count sheets of a stocktake, first and second count apart."""
    found = stocktake_of(running.shop, stocktake)
    if found is None:
        raise PaperRefused("That stocktake is not of this shop.")
    running.say(10, "ruling the lines")
    paper = actions.make_count_sheets(stocktake=found, at=timezone.now())
    return _made(paper, "The count sheets are ready: hand the second ones to somebody else.")


@job("print_order", title="Print the order", refusals=(PaperRefused,))
def print_order(running: Running, *, order: int) -> dict[str, Any]:
    """One order as it stands now."""
    rows = Order.objects.select_related("shop", "made_by", "sent_by")
    row = rows.get(pk=order, shop=running.shop)
    running.say(10, "writing the lines")
    paper = actions.make_order(order=row, at=timezone.now())
    return _made(paper, f"{row} is ready to print.")


def _made(paper: Paper, says: str) -> dict[str, Any]:
    address = reverse("paper:list", args=[paper.shop.slug])
    return {"paper": paper.pk, "says": says, "next": address}
