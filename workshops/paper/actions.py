"""Papers are made here, kept as files, and fetched again by their page."""

from __future__ import annotations

import re
from datetime import datetime

from django.core.files.base import ContentFile
from django.db import transaction
from django.template.loader import render_to_string

from workshops.common.pdf import pdf_from_html
from workshops.nights.models import Night
from workshops.paper.cards import cards_for, context_of
from workshops.paper.models import Paper
from workshops.paper.refusals import PaperRefused
from workshops.season.models import OutlookRun
from workshops.season.showing import drawn, stored

# Page objects stand in the open in what our PDF writer writes.
_PAGE = re.compile(rb"/Type\s*/Page\b")


def pages_in(pdf: bytes) -> int:
    """How many pages a PDF of ours has."""
    return len(_PAGE.findall(pdf))


def cards_pdf(night: Night, *, at: datetime) -> bytes:
    """The station cards of a night as one PDF, one card a station.

    Raises
    ------
    PaperRefused
        When nobody is placed yet: a card without its crew would be wrong all night.
    """
    cards = cards_for(night)
    if not cards:
        raise PaperRefused("Nobody is placed yet. Place everybody first, then make the cards.")
    return pdf_from_html(render_to_string("paper/cards.html", context_of(night, cards, at)))


@transaction.atomic
def make_cards(*, night: Night, at: datetime) -> Paper:
    """Make and keep the station cards of a night; raises as ``cards_pdf`` does."""
    pdf = cards_pdf(night, at=at)
    name = f"cards-{night.date.isoformat()}.pdf"
    paper = Paper(shop=night.shop, kind=Paper.Kind.CARDS, night=night, pages=pages_in(pdf))
    paper.made_at = at
    paper.file.save(name, ContentFile(pdf), save=True)
    return paper


@transaction.atomic
def make_outlook_picture(*, run: OutlookRun, at: datetime) -> Paper:
    """Keep the winter's band as a picture."""
    picture = drawn(stored(run)).encode()
    paper = Paper(shop=run.shop, kind=Paper.Kind.OUTLOOK, made_at=at)
    paper.file.save(f"outlook-{run.made_at:%Y-%m-%d}.svg", ContentFile(picture), save=True)
    return paper
