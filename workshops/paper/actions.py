"""Papers are made here, kept as files, and fetched again by their page."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime

from django.core.files.base import ContentFile
from django.db import transaction

from inventory.cutting.models import CutListRun
from inventory.deliveries.models import Order
from inventory.places.models import Shop
from inventory.stocktake.models import Stocktake
from workshops.common.pdf import Pdf
from workshops.counting.actions import number_sheets
from workshops.nights.models import Night
from workshops.nights.queries import night_on
from workshops.paper.cards import cards_for
from workshops.paper.count_sheets import print_count_sheets
from workshops.paper.cut_lists import print_cut_lists
from workshops.paper.label_sheets import SIZES, print_labels
from workshops.paper.labels import Label
from workshops.paper.models import Paper
from workshops.paper.orders import print_order
from workshops.paper.outlooks import print_outlook
from workshops.paper.permit_sheets import print_permit
from workshops.paper.printing import print_cards
from workshops.paper.refusals import PaperRefused
from workshops.paper.tally_sheets import print_tally_sheet
from workshops.paper.trouble_sheets import print_trouble_sheet
from workshops.season.models import OutlookRun
from workshops.season.showing import drawn, stored


def cards_pdf(night: Night, *, at: datetime, back: str = "") -> Pdf:
    """The station cards of a night as one PDF, one card a station.

    ``back`` names a second language for the back of every card.

    Raises
    ------
    PaperRefused
        When nobody is placed yet: a card without its crew would be wrong all night.
    """
    cards = cards_for(night)
    if not cards:
        raise PaperRefused("Nobody is placed yet. Place everybody first, then make the cards.")
    return print_cards(night, cards, at, back=back)


def make_cards(*, night: Night, at: datetime, back: str = "") -> Paper:
    """Make and keep the station cards of a night; raises as ``cards_pdf`` does."""
    pdf = cards_pdf(night, at=at, back=back)
    paper = Paper(shop=night.shop, kind=Paper.Kind.CARDS, night=night, made_at=at)
    return _kept(paper, f"cards-{night.date.isoformat()}{back and f'-{back}'}.pdf", pdf)


def make_cut_list(*, runs: Sequence[CutListRun], at: datetime) -> Paper:
    """Make and keep one paper of the cut lists, metal after metal.

    Raises
    ------
    PaperRefused
        When there is no list, or when they are not all of one shop.
    """
    if not runs:
        raise PaperRefused("No cut list is there yet. Make one under Stock, then print it.")
    shop = runs[0].shop
    if any(run.shop_id != shop.pk for run in runs):
        raise PaperRefused("The cut lists are of different shops. Print those of one shop.")
    keys = {run.night_key for run in runs}
    key = keys.pop() if len(keys) == 1 else ""
    night = night_on(shop, date.fromisoformat(key)) if key else None
    paper = Paper(shop=shop, kind=Paper.Kind.CUT_LIST, night=night, made_at=at)
    name = f"cut-list-{at.astimezone(shop.zone):%Y-%m-%d}.pdf"
    return _kept(paper, name, print_cut_lists(runs, at))


def make_outlook_picture(*, run: OutlookRun, at: datetime) -> Paper:
    """Keep the winter's band as a picture."""
    picture = Pdf(drawn(stored(run)).encode(), pages=1)
    paper = Paper(shop=run.shop, kind=Paper.Kind.OUTLOOK, made_at=at)
    return _kept(paper, f"outlook-{run.made_at:%Y-%m-%d}.svg", picture)


def make_outlook_page(*, run: OutlookRun, at: datetime) -> Paper:
    """Keep the winter's band and its sentences as one page to pin up."""
    paper = Paper(shop=run.shop, kind=Paper.Kind.OUTLOOK, made_at=at)
    return _kept(paper, f"outlook-{run.made_at:%Y-%m-%d}.pdf", print_outlook(run, at))


def make_labels(
    *, shop: Shop, labels: Sequence[Label], size: str, start: int, at: datetime
) -> Paper:
    """Keep the labels as sheets to cut; the first stands at label ``start``, from 1 on."""
    made = print_labels(shop, labels, size=SIZES[size], start=start, at=at)
    paper = Paper(shop=shop, kind=Paper.Kind.LABELS, made_at=at)
    return _kept(paper, f"labels-{at.astimezone(shop.zone):%Y-%m-%d}.pdf", made)


def make_count_sheets(*, stocktake: Stocktake, at: datetime) -> Paper:
    """Make and keep the count sheets of a stocktake's places that are not posted yet.

    Raises
    ------
    PaperRefused
        When every place is posted, or the stocktake is closed.
    """
    if stocktake.closed_at or not stocktake.sheets.filter(posted_at=None).exists():
        raise PaperRefused(f"Nothing of {stocktake} is left to count: begin another stocktake.")
    paper = Paper(shop=stocktake.shop, kind=Paper.Kind.COUNT_SHEETS, made_at=at)
    name = f"count-sheets-{at.astimezone(stocktake.shop.zone):%Y-%m-%d}.pdf"
    return _kept(paper, name, print_count_sheets(stocktake, at))


def make_trouble_sheet(*, shop: Shop, at: datetime) -> Paper:
    """Keep the blank incident sheet: one page for the binder."""
    paper = Paper(shop=shop, kind=Paper.Kind.TROUBLE, made_at=at)
    return _kept(paper, "incident-sheet.pdf", print_trouble_sheet(shop, at))


def make_permit(*, night: Night, at: datetime) -> Paper:
    """Keep the night's hot-work permit as it stands: one side, with lines for a pen."""
    paper = Paper(shop=night.shop, kind=Paper.Kind.PERMIT, night=night, made_at=at)
    return _kept(paper, f"permit-{night.date.isoformat()}.pdf", print_permit(night, at))


def make_tally_sheet(*, night: Night, at: datetime) -> Paper:
    """Keep a tally sheet of the night under a number of its own, by which it is typed in once."""
    [sheet] = number_sheets(night=night, how_many=1, at=at)
    paper = Paper(shop=night.shop, kind=Paper.Kind.TALLY, night=night, made_at=at)
    return _kept(paper, f"tally-sheet-{sheet.number}.pdf", print_tally_sheet(sheet, at))


def make_order(*, order: Order, at: datetime) -> Paper:
    """Keep an order as it stands now, to be posted or read out.

    Raises
    ------
    PaperRefused
        When it has no line yet: an empty order on paper invites somebody to fill it in.
    """
    if not order.lines.exists():
        raise PaperRefused(f"{order} has no line yet. Write down what is wanted first.")
    paper = Paper(shop=order.shop, kind=Paper.Kind.ORDER, made_at=at)
    return _kept(paper, f"order-{order.number}.pdf", print_order(order, at))


@transaction.atomic
def _kept(paper: Paper, name: str, made: Pdf) -> Paper:
    # Only the keeping is one transaction: while pages are laid out, others go on writing.
    paper.pages = made.pages
    paper.file.save(name, ContentFile(made.data), save=True)
    return paper
