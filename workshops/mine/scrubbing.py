"""What of one's own pages goes with an erased person beside the calendar: links that were sent."""

from __future__ import annotations

from workshops.mine.links import people_at
from workshops.mine.models import Link
from workshops.people.erasing import Erasing


def scrub_mine(erasing: Erasing) -> None:
    """The links sent to the person's addresses go.

    A parent and a child share an address: the links of one that somebody else of any club
    still has stay.
    """
    for email in erasing.emails:
        if not people_at(email).exclude(pk__in=erasing.numbers).exists():
            Link.objects.filter(email__iexact=email).delete()
