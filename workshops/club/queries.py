"""What holds in a shop: each rule's value, and who decided it."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, time
from typing import Any

from inventory.measures.lengths import Units, spell_length
from inventory.places.models import Shop
from workshops.club.models import ClubRule
from workshops.club.rule import Kind, Rule, RuleRefused, Value
from workshops.club.rulebook import RULES


@dataclass(frozen=True, slots=True)
class Decision:
    """A rule as it stands in a shop; not decided means that the usual value holds."""

    rule: Rule
    value: Value
    is_decided: bool = False
    decided_by: str = ""
    decided_on: date | None = None
    source: str = ""

    def spelled(self, units: Units) -> str:
        """The value as a person reads it, with its unit."""
        return spell_value(self.rule, self.value, units)


@dataclass(frozen=True, slots=True)
class Rules:
    """What the club has decided, or else what is usual: one attribute for each rule.

    Lengths are micrometres. ``None`` where the rule is off. ``decisions`` says who decided.
    """

    sign_off_months: int
    sign_off_ends: str | None
    resign_days: int
    lapse_unused_months: int | None
    points_needed: str
    lapse_warning_days: int
    last_warning_days: int
    ready_nights: int | None
    ready_hours: int | None
    signers_named_by: str
    waiver_needed: bool
    waiver_months: int
    learners_per_lead: int
    learner_pace_percent: int
    floor_holds: int | None
    adult_age: int
    guardian_must_be_present: bool
    consent_needed: bool
    minors_per_adult: int | None
    minor_latest: time | None
    minor_max_minutes: int | None
    young_hours: bool
    young_machines: bool
    watch_minutes: int
    watch_after_minutes: int
    hot_and_straw_apart: bool
    ring_inside_max_um: int | None
    wire_min_um: int | None
    mesh_max_um: int | None
    overlap_min_um: int | None
    hole_edge_min_um: int | None
    stem_engaged_min_um: int | None
    stem_clearance_min_um: int | None
    wall_tolerance_percent: int
    bale_moisture_max_percent: int
    hay_look_days: int
    hay_check_f: int
    hay_check_hours: int
    hay_watch_f: int
    hay_watch_hours: int
    hay_alarm_f: int
    temperature_unit: str
    fibre_limit_cubic_feet: int | None
    letter_days: int | None
    check_every: int | None
    break_test_every: int | None
    spot_inspection_months: int | None
    overdue_stops: bool
    see_lead_after_injury: bool
    decisions: dict[str, Decision] = field(default_factory=dict, compare=False)

    def decision(self, key: str) -> Decision:
        """Who decided the rule, when and from what; ``KeyError`` for an unknown key."""
        return self.decisions[key]


def rules_of(shop: Shop) -> Rules:
    """The rules of a shop: one query. With nothing decided, every usual value."""
    rows = {row.key: row for row in ClubRule.objects.filter(shop=shop)}
    decisions = {rule.key: _decision(rule, rows.get(rule.key)) for rule in RULES}
    # One attribute a rule, named like its key: a rule missing in either place fails at once.
    values: dict[str, Any] = {key: _ready(each) for key, each in decisions.items()}
    return Rules(**values, decisions=decisions)


def grouped(rules: Rules) -> list[tuple[str, list[Decision]]]:
    """The decisions under their headings, in the order of the rulebook. No query."""
    groups: dict[str, list[Decision]] = {}
    for each in rules.decisions.values():
        groups.setdefault(each.rule.group, []).append(each)
    return list(groups.items())


def spell_value(rule: Rule, value: Value, units: Units) -> str:
    """A value of a rule as a person reads it: ``60 minutes``, ``11 1/2 in``, ``no rule``."""
    if value is None:
        return "no rule"
    if rule.kind is Kind.BOOL:
        return "yes" if value else "no"
    if rule.kind is Kind.LENGTH:
        return spell_length(int(value), units)
    if rule.kind is Kind.CHOICE:
        return dict(rule.choices)[str(value)]
    if rule.kind is Kind.DAY:
        return spell_day_of_year(str(value))
    return f"{value} {rule.unit}".strip()


def spell_day_of_year(value: str) -> str:
    """A month and day as people write it: ``31 Oct``."""
    day = date.fromisoformat(f"2025-{value}")
    return f"{day.day} {day:%b}"


def _decision(rule: Rule, row: ClubRule | None) -> Decision:
    if row is None:
        return Decision(rule, rule.usual, source=rule.source)
    try:
        value = rule.check(row.value)
    except RuleRefused:
        # A value from before the rule was narrowed: the usual one holds until it is set anew.
        return Decision(rule, rule.usual, source=rule.source)
    return Decision(rule, value, True, row.decided_by, row.decided_on, row.source)


def _ready(decision: Decision) -> Any:
    if decision.rule.kind is Kind.TIME and decision.value is not None:
        return time.fromisoformat(str(decision.value))
    return decision.value
