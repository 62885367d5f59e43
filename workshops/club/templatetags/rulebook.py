"""Rule values in templates."""

from __future__ import annotations

from django import template

from inventory.measures.lengths import Units
from workshops.club.queries import Decision, spell_value

register = template.Library()


@register.filter
def spelled(decision: Decision, units: Units) -> str:
    """The value as a person reads it: ``{{ decision|spelled:units }}``."""
    return decision.spelled(units)


@register.filter
def usually(decision: Decision, units: Units) -> str:
    """The usual value, whatever the club decided: ``{{ decision|usually:units }}``."""
    return spell_value(decision.rule, decision.rule.usual, units)
