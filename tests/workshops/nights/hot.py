"""Hot work ready to be opened: every point answered, and the terms of a permit."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from workshops.nights import actions
from workshops.nights.models import HotWorkPermit, Night
from workshops.nights.permit.points import points_of
from workshops.people.models import Person
from workshops.stations.models import Station


def terms_of(night: Night, **fields: Any) -> actions.Terms:
    """Welding in the welders' room, allowed and locked up by Dov."""
    # A night of another shop without hot work is asked with a station that is not its own.
    hot = Station.objects.filter(is_spark=True).select_related("room")
    weld = hot.filter(shop=night.shop).first() or hot[0]
    usual = {
        "room": weld.room, "stations": [weld], "work": "weld heads",
        "extinguisher": "number 2, by the door", "allowed_by": "Dov", "key_with": "Dov",
    }  # fmt: skip
    return actions.Terms(**(usual | fields))


def answer_all(night: Night, at: datetime, **other: bool) -> None:
    """Every point answered with yes by Dov, but for those given."""
    answers = {point.key: True for point in points_of(night.shop)} | other
    actions.answer_points(night=night, answers=answers, checked_by="Dov", at=at)


def open_permit(night: Night, watcher: Person, at: datetime, **fields: Any) -> HotWorkPermit:
    """The permit of the night, with every point looked at before."""
    answer_all(night, at)
    return actions.open_permit(
        night=night, watcher=watcher, opened_by="Dov", at=at, terms=terms_of(night, **fields)
    )


def posted(night: Night, watcher: Person) -> dict[str, Any]:
    """What the page sends to open a permit."""
    terms = terms_of(night)
    return {
        "watcher": watcher.pk, "room": terms.room.pk, "work": terms.work,
        "stations": [each.pk for each in terms.stations], "allowed_by": "Dov",
        "extinguisher": terms.extinguisher, "key_with": "Dov",
    }  # fmt: skip
