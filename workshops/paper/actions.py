"""Papers are made here, kept as files, and fetched again by their page."""

from __future__ import annotations

from datetime import datetime

from django.core.files.base import ContentFile
from django.db import transaction

from workshops.common.pdf import Pdf
from workshops.nights.models import Night
from workshops.paper.cards import cards_for
from workshops.paper.models import Paper
from workshops.paper.printing import print_cards
from workshops.paper.refusals import PaperRefused
from workshops.season.models import OutlookRun
from workshops.season.showing import drawn, stored


def cards_pdf(night: Night, *, at: datetime) -> Pdf:
    """The station cards of a night as one PDF, one card a station.

    Raises
    ------
    PaperRefused
        When nobody is placed yet: a card without its crew would be wrong all night.
    """
    cards = cards_for(night)
    if not cards:
        raise PaperRefused("Nobody is placed yet. Place everybody first, then make the cards.")
    return print_cards(night, cards, at)


@transaction.atomic
def make_cards(*, night: Night, at: datetime) -> Paper:
    """Make and keep the station cards of a night; raises as ``cards_pdf`` does."""
    pdf = cards_pdf(night, at=at)
    paper = Paper(
        shop=night.shop, kind=Paper.Kind.CARDS, night=night, pages=pdf.pages, made_at=at
    )
    paper.file.save(f"cards-{night.date.isoformat()}.pdf", ContentFile(pdf.data), save=True)
    return paper


@transaction.atomic
def make_outlook_picture(*, run: OutlookRun, at: datetime) -> Paper:
    """Keep the winter's band as a picture."""
    picture = drawn(stored(run)).encode()
    paper = Paper(shop=run.shop, kind=Paper.Kind.OUTLOOK, made_at=at)
    paper.file.save(f"outlook-{run.made_at:%Y-%m-%d}.svg", ContentFile(picture), save=True)
    return paper
