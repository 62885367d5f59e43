"""What makes a stop win: one lock on the register, and whoever must step away told at once.

Whoever lets somebody to a station (a plan, a move, a permit, a signature) and whoever stops
somebody hold the same lock, the row of the shop. So a bar is either there when the facts are
read, or comes after the placing is written, and then takes it away again.
"""

from __future__ import annotations

from collections.abc import Callable

from django.db import connection

from inventory.places.models import Shop
from workshops.people.models import Person

StepAway = Callable[[Person], None]

# Slices above that keep people at stations add themselves here, from their ``tasks.py``.
STEPS: list[StepAway] = []


def when_stopped(act: StepAway) -> StepAway:
    """Register what takes a person away from where they may stand no longer."""
    STEPS.append(act)
    return act


def stand_back(person: Person) -> None:
    """Have every slice take the person away from where the gate says no by now.

    Called inside the transaction that stopped them, with the register held.
    """
    for step in STEPS:
        step(person)


def hold_register(shop: Shop) -> None:
    """Wait for whoever writes the register or lets somebody to a station, until the commit.

    On SQLite the transaction itself began with that lock. Whoever holds a night takes the
    night first.
    """
    if connection.features.has_select_for_update:
        # No key: rows that point to the shop may still be written meanwhile.
        Shop.objects.select_for_update(no_key=True).only("pk").get(pk=shop.pk)
