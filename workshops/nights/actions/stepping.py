"""Taking somebody out of the plans of the nights to come when the register stops them."""

from __future__ import annotations

from django.utils import timezone

from workshops.nights.models import Night, Placing
from workshops.nights.standing import answer_for
from workshops.people.gate import register_on
from workshops.people.models import Person

# These an evening can mend at the door: the board shows them, and the place is kept.
MENDED_AT_THE_DOOR = frozenset({"waiver", "consent"})


def step_away(person: Person) -> None:
    """Take the person from every place at which the gate says no by now.

    Tonight and later, fixed or not: nobody fixes somebody where the register stops them.
    Called with the register held, in the transaction that stopped them.
    """
    today = timezone.now().astimezone(person.shop.zone).date()
    rows = Placing.objects.filter(
        person=person, night__status=Night.Status.PLANNED, night__date__gte=today
    ).select_related("night")
    by_night: dict[Night, list[Placing]] = {}
    for row in rows:
        by_night.setdefault(row.night, []).append(row)
    for night, placings in by_night.items():
        register = register_on(person.shop, night.date)
        stopped = [
            row.pk
            for row in placings
            if not answer_for(register, row).ok_but_for(MENDED_AT_THE_DOOR)
        ]
        Placing.objects.filter(pk__in=stopped).delete()
