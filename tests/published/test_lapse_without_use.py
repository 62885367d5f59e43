"""A sign-off that lapses without use, against the welding code that made the rule known."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from tests.factories import make_person, make_sign_off, make_station, make_waiver
from workshops.people.actions import Used, record_uses, set_lifetime
from workshops.people.gate import may

SIGNED, USED = date(2025, 3, 10), date(2025, 7, 20)


@pytest.mark.django_db
@pytest.mark.parametrize(("last_use", "last_day"), [
    (None, date(2025, 9, 9)), (USED, date(2026, 1, 19)),
])  # fmt: skip
def test_a_welder_who_does_not_weld_for_six_months_is_qualified_no_more(shop, last_use, last_day):
    """AWS D1.1, period of effectiveness: six months without the process (from memory)."""
    weld, welder = make_station(shop, level_needed=3), make_person(shop)
    make_waiver(welder, signed_on=SIGNED, valid_until=date(2027, 1, 1))
    make_sign_off(welder, weld, signed_on=SIGNED, valid_until=None)
    set_lifetime(
        station=weld, unused_months=6, decided_by="the board", decided_on=date(2025, 1, 1),
        source="AWS D1.1", by=None,
    )  # fmt: skip
    if last_use:
        record_uses(shop=shop, day=last_use, uses=[Used(welder.pk, weld.pk, 40)])
    assert may(welder, weld, last_day).ok
    stopped = may(welder, weld, last_day + timedelta(days=1))
    assert "lapsed without use" in stopped.reasons[0].text
