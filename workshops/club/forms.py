"""The form of one rule: its value, and who decided it, when, from what."""

from __future__ import annotations

from typing import Any

from django import forms

from inventory.measures.lengths import Units
from workshops.club.fields import DayOfYearField
from workshops.club.queries import Decision
from workshops.club.rule import Kind, Rule
from workshops.common.fields import LengthField

YES_NO = [("yes", "yes"), ("no", "no")]


class RuleForm(forms.Form):
    """What the club decided about one rule; the value field fits the rule's kind."""

    decided_by = forms.CharField(
        label="Decided by", max_length=80, help_text="The board, the coordinator, a name."
    )
    decided_on = forms.DateField(label="Decided on", widget=forms.DateInput({"type": "date"}))
    source = forms.CharField(
        label="From what", max_length=200, help_text="A code, a policy, the insurer, a meeting."
    )
    field_order = ["value", "decided_by", "decided_on", "source"]

    def __init__(self, *args: Any, decision: Decision, units: Units, **kwargs: Any) -> None:
        self.rule = decision.rule
        kwargs.setdefault("initial", _initial(decision))
        # Several forms can be open on one page: their ids must differ.
        kwargs.setdefault("auto_id", f"{self.rule.key}_%s")
        super().__init__(*args, **kwargs)
        self.fields["value"] = value_field(self.rule, units)
        self.order_fields(self.field_order)

    def clean_value(self) -> Any:
        """The value as the rulebook keeps it."""
        value = self.cleaned_data["value"]
        # Two radio buttons and no tick box: an empty box cannot be told from a forgotten one.
        if self.rule.kind is Kind.BOOL:
            return value == "yes"
        if self.rule.kind is Kind.TIME and value:
            return f"{value:%H:%M}"
        return value


def value_field(rule: Rule, units: Units) -> forms.Field:
    """A form field for the rule's kind; empty is allowed where the rule can be off."""
    common: dict[str, Any] = {"label": rule.label, "required": not rule.can_be_off}
    if rule.can_be_off:
        common["help_text"] = "Leave empty for no rule."
    if rule.kind is Kind.INT:
        common["label"] = f"{rule.label} ({rule.unit})" if rule.unit else rule.label
        return forms.IntegerField(min_value=rule.least, max_value=rule.most, **common)
    if rule.kind is Kind.LENGTH:
        return LengthField(units=units, **common)
    if rule.kind is Kind.TIME:
        return forms.TimeField(widget=forms.TimeInput({"type": "time"}), **common)
    if rule.kind is Kind.DAY:
        return DayOfYearField(**common)
    choices = YES_NO if rule.kind is Kind.BOOL else rule.choices
    return forms.ChoiceField(choices=choices, widget=forms.RadioSelect, **common)


def _initial(decision: Decision) -> dict[str, Any]:
    value = decision.value
    if decision.rule.kind is Kind.BOOL:
        value = "yes" if value else "no"
    return {
        "value": value,
        "decided_by": decision.decided_by,
        "decided_on": decision.decided_on,
        # What is usual has its own source; the club must write down where its decision comes from.
        "source": decision.source if decision.is_decided else "",
    }
