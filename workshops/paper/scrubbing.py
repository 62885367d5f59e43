"""Papers that name an erased person: thrown away, file and all; they can be made anew."""

from __future__ import annotations

from functools import partial

from django.db import transaction
from django.db.models import Q

from inventory.deliveries.models import Order
from workshops.paper.models import Paper
from workshops.people.erasing import Erasing

# What is printed of a night names whoever was placed.
NAMES_PEOPLE = (Paper.Kind.CARDS,)


def scrub_papers(erasing: Erasing) -> None:
    """Throw away the papers of nights on which the person was placed, came or kept the watch."""
    of_theirs = Q(night__placings__person__in=erasing.numbers) | Q(
        night__roll__person__in=erasing.numbers
    )
    named = Q(kind__in=NAMES_PEOPLE) & of_theirs
    accounts = [person.user_id for person in erasing.people if person.user_id]
    if Order.objects.filter(Q(made_by__in=accounts) | Q(sent_by__in=accounts)).exists():
        # A paper does not say which order it is of: all of them go.
        named |= Q(kind=Paper.Kind.ORDER)
    for paper in Paper.objects.filter(named, shop=erasing.shop).distinct():
        # A file goes only when the erase is written: a row without its file opens nothing.
        transaction.on_commit(partial(paper.file.delete, save=False))
        paper.delete()
