"""The form of a rule fits the rule's kind."""

from __future__ import annotations

from typing import Any

import pytest
from django import forms

from inventory.measures.lengths import Units, inches
from workshops.club.forms import RuleForm, value_field
from workshops.club.queries import Decision
from workshops.club.rulebook import RULE, RULES
from workshops.common.fields import LengthField

SAID = {"decided_by": "the board", "decided_on": "2025-10-01", "source": "meeting"}


@pytest.mark.parametrize(
    ("key", "field"),
    [
        ("watch_minutes", forms.IntegerField), ("waiver_needed", forms.ChoiceField),
        ("minor_latest", forms.TimeField), ("ring_inside_max_um", LengthField),
        ("signers_named_by", forms.ChoiceField),
    ],
)  # fmt: skip
def test_each_kind_has_its_field(key: str, field: type[forms.Field]):
    assert type(value_field(RULE[key], Units.INCH)) is field


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.key)
def test_only_a_rule_that_can_be_off_may_be_left_empty(rule: Any):
    assert value_field(rule, Units.INCH).required is not rule.can_be_off


@pytest.mark.parametrize(
    ("key", "typed", "kept"),
    [
        ("waiver_needed", "yes", True), ("waiver_needed", "no", False),
        ("minor_latest", "19:00", "19:00"), ("minor_latest", "", None),
        ("ring_inside_max_um", "11 1/2", inches("11 1/2")), ("watch_minutes", "45", 45),
    ],
)  # fmt: skip
def test_the_value_is_cleaned_as_the_rulebook_keeps_it(key: str, typed: str, kept: Any):
    rule = RULE[key]
    form = RuleForm(SAID | {"value": typed}, decision=Decision(rule, rule.usual), units=Units.INCH)
    assert form.is_valid()
    assert form.cleaned_data["value"] == kept


def test_the_form_starts_with_what_holds():
    decided = Decision(RULE["waiver_needed"], False, True, "Carla", None, "meeting")
    form = RuleForm(decision=decided, units=Units.INCH)
    assert (form.initial["value"], form.initial["source"]) == ("no", "meeting")
    usual = Decision(RULE["watch_minutes"], 60, source="a standard")
    assert RuleForm(decision=usual, units=Units.INCH).initial["source"] == ""
