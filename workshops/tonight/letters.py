"""The letter that a night is off."""

from __future__ import annotations

from collections.abc import Sequence

from django.template.loader import render_to_string

from workshops.nights.engine.board import spell_names
from workshops.nights.models import Night
from workshops.people.models import Person
from workshops.tonight.models import CalledOff


def letter(night: Night, people: Sequence[Person]) -> tuple[str, str]:
    """Subject and words of the letter to everybody at one address. 1 query."""
    off = CalledOff.objects.filter(night=night).select_related("moved_to").first()
    words = {
        "names": spell_names(person.first_name for person in people),
        "night": night,
        "to": off.moved_to if off else None,
    }
    subject = f"No shop night on {night.date:%A} {night.date.day} {night.date:%B}"
    return subject, render_to_string("tonight/off.txt", words)
