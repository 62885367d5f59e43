"""Setting a rule, and going back to the usual value."""

from __future__ import annotations

from datetime import date, datetime

from django.db import transaction
from django.utils import timezone

from inventory.places.models import Shop
from workshops.access.models import User
from workshops.club.models import ClubRule
from workshops.club.rule import RuleRefused, Value
from workshops.club.rulebook import RULE


@transaction.atomic
def set_rule(
    *,
    shop: Shop,
    key: str,
    value: Value,
    decided_by: str,
    decided_on: date,
    source: str,
    by: User | None,
    at: datetime | None = None,
) -> ClubRule:
    """The rule as the club has now decided it; replaces an earlier decision.

    Raises
    ------
    RuleRefused
        When there is no such rule, it cannot take the value, or nobody is said to have
        decided it, from nothing, or on a day yet to come.
    """
    # Rules live in code: a key from an old bookmark or a file must not make a row nobody reads.
    if key not in RULE:
        raise RuleRefused(key, "There is no rule of that name.")
    at = at or timezone.now()
    if not decided_by.strip():
        raise RuleRefused(key, "Decided by: write who decided it.")
    if not source.strip():
        raise RuleRefused(key, "From what: write the code, policy or meeting it comes from.")
    if decided_on > at.astimezone(shop.zone).date():
        raise RuleRefused(key, "Decided on: that day is still to come.")
    # One row a rule: what held before is in the minutes of whoever decided it.
    row, _ = ClubRule.objects.update_or_create(
        shop=shop,
        key=key,
        defaults={
            "value": RULE[key].check(value),
            "decided_by": decided_by.strip(),
            "decided_on": decided_on,
            "source": source.strip(),
            "recorded_by": by,
            "recorded_at": at,
        },
    )
    return row


def drop_rule(*, shop: Shop, key: str) -> None:
    """Go back to the usual value of a rule; nothing happens when the club never set it."""
    # No row means the usual value, so a change of what is usual reaches the shop.
    ClubRule.objects.filter(shop=shop, key=key).delete()
