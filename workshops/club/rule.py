"""What a rule is: its kind, its usual value, why a club has it, and what it refuses."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, time
from enum import StrEnum

Value = bool | int | str | None


class Kind(StrEnum):
    """What sort of value a rule takes."""

    INT = "int"
    BOOL = "bool"
    TIME = "time"
    LENGTH = "length"
    CHOICE = "choice"
    DAY = "day"


class RuleRefused(ValueError):
    """A value that a rule cannot take: ``key`` says which rule, ``reason`` why."""

    def __init__(self, key: str, reason: str) -> None:
        self.key = key
        self.reason = reason
        super().__init__(f"{key}: {reason}")


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule of the rulebook.

    Parameters
    ----------
    kind
        ``TIME`` values are text like ``19:00``, ``DAY`` values a month and day like ``10-31``,
        ``LENGTH`` values whole micrometres.
    usual
        The value until the club decides; none: the rule is off.
    unit
        Said after a number: minutes, years. Empty for other kinds.
    least, most
        The range of a number, both included.
    choices
        Value -> what it means, for ``CHOICE``.
    can_be_off
        Whether none is a value: no such rule here.
    """

    key: str
    group: str
    label: str
    kind: Kind
    usual: Value
    why: str
    source: str
    unit: str = ""
    least: int = 0
    most: int = 1_000_000
    choices: tuple[tuple[str, str], ...] = ()
    can_be_off: bool = False

    def check(self, value: Value) -> Value:
        """The value when the rule can take it.

        Raises
        ------
        RuleRefused
            When it is off where it cannot be, of the wrong kind or out of range.
        """
        if value is None:
            if not self.can_be_off:
                raise RuleRefused(self.key, f"{self.label} cannot be left empty.")
            return None
        # Below here nothing is off: none was dealt with above.
        return _CHECKS[self.kind](self, value)


def _whole(rule: Rule, value: Value) -> Value:
    # True is an int to Python; as a number of minutes it would be one.
    if isinstance(value, bool) or not isinstance(value, int):
        raise RuleRefused(rule.key, f"{rule.label} must be a whole number, not {value!r}.")
    if not rule.least <= value <= rule.most:
        unit = f" {rule.unit}" if rule.unit else ""
        raise RuleRefused(
            rule.key, f"{rule.label} must be {rule.least} to {rule.most}{unit}, not {value}."
        )
    return value


def _yes_or_no(rule: Rule, value: Value) -> Value:
    if not isinstance(value, bool):
        raise RuleRefused(rule.key, f"{rule.label} is yes or no, not {value!r}.")
    return value


def _clock(rule: Rule, value: Value) -> Value:
    try:
        # A bare "19" is a time to Python, and a slip of the pen to everybody else.
        return f"{time.fromisoformat(str(value) if ':' in str(value) else ''):%H:%M}"
    except ValueError:
        raise RuleRefused(
            rule.key, f"{rule.label} must be a time like 19:00, not {value!r}."
        ) from None


def _day_of_year(rule: Rule, value: Value) -> Value:
    try:
        # In a year without a February 29, which would be no last day three years in four.
        return f"{date.fromisoformat(f'2025-{value}'):%m-%d}"
    except ValueError:
        raise RuleRefused(
            rule.key, f"{rule.label} must be a month and day like 10-31, not {value!r}."
        ) from None


def _chosen(rule: Rule, value: Value) -> Value:
    if value not in dict(rule.choices):
        known = ", ".join(key for key, _ in rule.choices)
        raise RuleRefused(rule.key, f"{rule.label} must be one of {known}, not {value!r}.")
    return value


def _long(rule: Rule, value: Value) -> Value:
    if isinstance(value, bool) or not isinstance(value, int) or value <= 0:
        raise RuleRefused(rule.key, f"{rule.label} must be a length above nothing, not {value!r}.")
    return value


_CHECKS = {
    Kind.INT: _whole,
    Kind.BOOL: _yes_or_no,
    Kind.TIME: _clock,
    Kind.DAY: _day_of_year,
    Kind.CHOICE: _chosen,
    Kind.LENGTH: _long,
}
