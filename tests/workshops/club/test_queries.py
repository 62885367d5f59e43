"""What holds in a shop."""

from __future__ import annotations

from datetime import date, time

from inventory.measures.lengths import Units, inches
from inventory.places.models import Shop
from workshops.club.models import ClubRule
from workshops.club.queries import grouped, rules_of, spell_value
from workshops.club.rulebook import RULE, RULES


def keep(shop: Shop, key: str, value: object) -> None:
    """A decision as a row, whatever the rulebook thinks of it."""
    ClubRule.objects.create(
        shop=shop, key=key, value=value, decided_by="Carla", decided_on=date(2025, 9, 1),
        source="meeting",
    )  # fmt: skip


def test_with_nothing_decided_every_usual_value_holds(shop: Shop):
    rules = rules_of(shop)
    assert (rules.watch_minutes, rules.minor_latest, rules.waiver_needed) == (60, None, True)
    assert not any(each.is_decided for each in rules.decisions.values())


def test_what_the_club_decided_holds_and_says_who(shop: Shop):
    keep(shop, "minor_latest", "19:00")
    rules = rules_of(shop)
    decision = rules.decision("minor_latest")
    assert rules.minor_latest == time(19)
    assert (decision.is_decided, decision.decided_by, decision.source) == (True, "Carla", "meeting")


def test_a_value_the_rulebook_no_longer_takes_gives_way_to_the_usual_one(shop: Shop):
    keep(shop, "watch_minutes", 5)
    rules = rules_of(shop)
    assert (rules.watch_minutes, rules.decision("watch_minutes").is_decided) == (60, False)


def test_a_key_nobody_knows_is_left_out(shop: Shop):
    keep(shop, "left-over", 5)
    assert len(rules_of(shop).decisions) == len(RULES)


def test_another_shops_decisions_do_not_hold_here(shop: Shop, other_shop: Shop):
    keep(other_shop, "watch_minutes", 90)
    assert rules_of(shop).watch_minutes == 60


def test_the_rules_are_read_in_one_query(shop: Shop, django_assert_num_queries: object):
    with django_assert_num_queries(1):
        grouped(rules_of(shop))


def test_values_are_spelled_with_their_unit():
    spelled = {
        "watch_minutes": (60, "60 minutes"),
        "waiver_needed": (True, "yes"),
        "floor_holds": (None, "no rule"),
        "minor_latest": ("19:00", "19:00"),
        "ring_inside_max_um": (inches("11 1/2"), "11 1/2 in"),
        "signers_named_by": ("authorisers", "an authoriser of the station"),
    }
    for key, (value, words) in spelled.items():
        assert spell_value(RULE[key], value, Units.INCH) == words
    assert spell_value(RULE["ring_inside_max_um"], 292_100, Units.MILLIMETRE) == "292.1 mm"
