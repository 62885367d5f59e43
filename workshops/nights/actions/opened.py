"""What every step on a night's board begins with: the night is open, and held until the end."""

from __future__ import annotations

from workshops.nights.models import Night
from workshops.nights.refusals import NightRefused
from workshops.people.actions import hold_register


def check_open(night: Night) -> None:
    """Refuse a night that is over or cancelled."""
    if night.status != Night.Status.PLANNED:
        raise NightRefused(f"The night of {night} is {night.get_status_display()}.")


def hold(night: Night) -> Night:
    """The night of this minute, held with the register until the transaction ends.

    The night first, then the register: who is stopped now is seen, who is stopped later finds
    the placings and takes them away.

    Raises
    ------
    NightRefused
        When the night is over or cancelled.
    """
    held = Night.objects.select_for_update(of=("self",)).select_related("shop").get(pk=night.pk)
    check_open(held)
    hold_register(held.shop)
    return held
