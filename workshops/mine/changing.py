"""One's own details changed by oneself; an address that is no longer the one is told of it."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial
from typing import Any

from django.db import transaction

from workshops.access.models import User
from workshops.mine.mailing import send_address_changed
from workshops.people.actions import edit_person
from workshops.people.models import Person


@transaction.atomic
def change_details(*, person: Person, fields: Mapping[str, Any], by: User) -> Person:
    """The person with those details; a letter goes to the address they had before.

    Raises
    ------
    PeopleRefused
        As ``edit_person``; then nobody is written to.
    """
    before = person.email
    row = edit_person(person=person, fields=fields, by=by)
    if before and before.casefold() != row.email.casefold():
        # The change is kept even where the letter cannot be sent.
        transaction.on_commit(partial(send_address_changed, row, before), robust=True)
    return row
