"""What of one's own pages is told of a person beside the calendar: the links sent to them."""

from __future__ import annotations

from collections.abc import Sequence

from workshops.mine.models import Link
from workshops.people.models import Person
from workshops.people.telling import Section


def links_sent(people: Sequence[Person]) -> Section:
    """The one-time links sent to the addresses of the entries: a query an address."""
    emails = dict.fromkeys(person.email for person in people if person.email)
    rows = [row for email in emails for row in Link.objects.filter(email__iexact=email)]
    plain = [
        {"email": row.email, "asked_at": row.asked_at.isoformat(),
         "used_at": row.used_at.isoformat() if row.used_at else None}
        for row in rows
    ]  # fmt: skip
    return Section("links", "Links sent", plain)
