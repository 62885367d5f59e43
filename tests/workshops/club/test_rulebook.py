"""The rulebook itself: every rule is whole, and refuses what it cannot take."""

from __future__ import annotations

from dataclasses import fields

import pytest

from workshops.club.queries import Rules
from workshops.club.rule import Kind, Rule, RuleRefused, Value
from workshops.club.rulebook import RULE, RULES


def test_every_rule_has_one_key_and_one_attribute():
    keys = [rule.key for rule in RULES]
    assert sorted(keys) == sorted(set(keys))
    assert keys == [field.name for field in fields(Rules) if field.name != "decisions"]


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.key)
def test_every_rule_says_why_and_from_what_and_takes_its_own_usual_value(rule: Rule):
    assert rule.why.endswith((".", "?"))
    assert rule.source
    assert rule.check(rule.usual) == rule.usual


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("watch_minutes", 29), ("watch_minutes", 241), ("watch_minutes", "60"),
        ("watch_minutes", True), ("watch_minutes", None), ("waiver_needed", 1),
        ("minor_latest", "25:00"), ("minor_latest", 19), ("signers_named_by", "anybody"),
        ("ring_inside_max_um", 0), ("ring_inside_max_um", 11.5), ("ring_inside_max_um", True),
    ],
)  # fmt: skip
def test_a_rule_refuses_what_it_cannot_take(key: str, value: Value):
    with pytest.raises(RuleRefused) as refused:
        RULE[key].check(value)
    assert RULE[key].label in refused.value.reason


@pytest.mark.parametrize(
    ("key", "value", "kept"),
    [
        ("watch_minutes", 30, 30), ("watch_minutes", 240, 240), ("minor_latest", "19:00", "19:00"),
        ("minor_latest", "07:05:00", "07:05"), ("minor_latest", None, None),
        ("signers_named_by", "club", "club"), ("waiver_needed", False, False),
        ("ring_inside_max_um", 1, 1),
    ],
)  # fmt: skip
def test_a_rule_takes_what_it_can(key: str, value: Value, kept: Value):
    assert RULE[key].check(value) == kept


def test_only_rules_with_a_usual_value_of_none_or_a_limit_can_be_off():
    off = {rule.key for rule in RULES if rule.usual is None}
    assert off <= {rule.key for rule in RULES if rule.can_be_off}
    assert not any(rule.can_be_off for rule in RULES if rule.kind is Kind.BOOL)
