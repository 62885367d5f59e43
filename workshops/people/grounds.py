"""The grounds on which the gate refuses: one function for each rule.

A ground takes a case and returns the reason, or None when the rule does not stop it. The
names are those of the rules of a whole plan, so that both say the same word. A remedy says
how to come within the rule; none says how to get around it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from workshops.club.queries import Rules
from workshops.people.days import spell_day
from workshops.people.facts import PersonFacts, Prerequisite, StationFacts
from workshops.people.register import Ending, Signed
from workshops.people.young import is_kept_from, machine_words
from workshops.stations.models import Level


class Doing(StrEnum):
    """What somebody means to do at a station."""

    WORKS = "works"
    LEARNS = "learns"
    LEADS = "leads"
    WATCHES = "watches"
    SIGNS = "signs"


@dataclass(frozen=True, slots=True)
class Reason:
    """Why not: the name of the rule, what it stops, and what would make it so."""

    rule: str
    text: str
    remedy: str

    def in_public(self) -> Reason:
        """The reason without what is private to the person."""
        if self.rule not in PRIVATE:
            return self
        return Reason(
            self.rule,
            "A rule about age or a personal limit stops this.",
            "Ask the coordinator or the duty lead.",
        )


@dataclass(frozen=True, slots=True)
class Case:
    """One person at one station on one day."""

    person: PersonFacts
    station: StationFacts
    on: date
    doing: Doing
    rules: Rules

    def level_wanted(self) -> Level | None:
        """The level asked for; None when the work asks for no sign-off."""
        # Before the station's own level: work that asks no sign-off may still be signed for.
        if self.doing is Doing.SIGNS:
            return Level.MAY_SIGN
        needed = self.station.level_needed
        if needed is None:
            return None
        if self.doing is Doing.LEARNS:
            # A station for which being shown is enough asks no more of a learner.
            return min(needed, Level.WITH_A_LEAD)
        if self.doing is Doing.LEADS:
            return max(needed, Level.MAY_LEAD)
        return needed


Ground = Callable[[Case], Reason | None]


def same_shop(case: Case) -> Reason | None:
    """Person and station belong to different shops."""
    if case.person.shop == case.station.shop:
        return None
    return Reason(
        "same_shop",
        f"{case.person.short_name} is not on the list of the shop that has {case.station.name}.",
        "Add the person to that shop's list and have them signed off there.",
    )


def on_the_list(case: Case) -> Reason | None:
    """The person was taken off the club's list."""
    if case.person.is_active:
        return None
    return Reason(
        "on_the_list",
        f"{case.person.short_name} is no longer on the club's list.",
        "A coordinator can put them back on the list on their page.",
    )


def barred(case: Case) -> Reason | None:
    """A bar keeps the person from the station, or from everywhere."""
    bar = case.person.bar_at(case.station.id)
    if bar is None:
        return None
    where = "every station" if bar.station is None else case.station.name
    return Reason(
        "barred",
        f"{case.person.short_name} is barred from {where}: {bar.reason}.",
        "Settle what the bar was set for; a person who may set bars can then lift it.",
    )


def with_a_lead(case: Case) -> Reason | None:
    """A suspension lets the person work there only beside a lead."""
    suspended = case.person.lead_needed_at(case.station.id)
    if suspended is None or (case.doing is Doing.LEARNS and case.station.has_learners):
        return None
    until = f" until {spell_day(suspended.until)}" if suspended.until else ""
    return Reason(
        "with_a_lead",
        f"{case.person.short_name} works at {case.station.name} only beside a lead{until}: "
        f"{suspended.reason}.",
        "Place them beside somebody who may lead there; whoever may set bars can end it.",
    )


def sign_off(case: Case) -> Reason | None:
    """No current sign-off at the level asked for."""
    wanted = case.level_wanted()
    signed = case.person.current(case.station.id, case.on)
    if wanted is None or (signed and signed.level >= wanted):
        return None
    return Reason("sign_off", _why_not_signed(case, wanted), _how_to_be_signed(case, wanted))


def _why_not_signed(case: Case, wanted: Level) -> str:
    name, station = case.person.short_name, case.station.name
    signed = case.person.signed.get(case.station.id)
    if signed is None:
        return f"{name} has no sign-off for {station}."
    if not signed.is_current(case.on) and signed.valid_until:
        return f"{name}'s sign-off for {station} {_how_it_ended(signed, signed.valid_until)}"
    has, takes = signed.level.label, wanted.label
    return f"{name} is signed off for {station} “{has}”, and this takes “{takes}”."


def _how_it_ended(signed: Signed, last: date) -> str:
    if signed.ending is Ending.WITHDRAWN:
        return f"was withdrawn: its last day was {spell_day(last)}."
    if signed.ending is Ending.UNUSED:
        used = signed.last_used_on
        since = f"was last used on {spell_day(used)}" if used else "was never used"
        return f"lapsed without use: it {since}, and its last day was {spell_day(last)}."
    return f"lapsed: its last day was {spell_day(last)}."


def _how_to_be_signed(case: Case, wanted: Level) -> str:
    station = case.station.name
    if case.doing is Doing.SIGNS:
        return f"Another authoriser of {station} whose sign-off counts can sign instead."
    signed = case.person.signed.get(case.station.id)
    if signed and not signed.is_current(case.on) and signed.level >= wanted:
        return f"An authoriser of {station} can sign again after seeing the work done."
    return f"An authoriser of {station} can sign “{wanted.label}” once it has been shown."


def prerequisites(case: Case) -> Reason | None:
    """A sign-off that the station builds on does not count."""
    if case.doing is Doing.SIGNS or not case.station.prerequisites:
        return None
    missing = [needed for needed in case.station.prerequisites if not _holds(case, needed)]
    if not missing:
        return None
    names = " and ".join(needed.name for needed in missing)
    return Reason(
        "prerequisites",
        f"{case.station.name} takes a current sign-off for {names} first; "
        f"{case.person.short_name} has none.",
        f"Get signed off for {names} first.",
    )


def _holds(case: Case, needed: Prerequisite) -> bool:
    signed = case.person.current(needed.pk, case.on)
    # A bar from everywhere stops the work already, so only one from this station is asked.
    if signed is None or any(bar.station == needed.pk for bar in case.person.bars):
        return False
    return needed.level_needed is None or signed.level >= needed.level_needed


def minimum_age(case: Case) -> Reason | None:
    """Younger than the station allows, or of an age nobody wrote down."""
    least = case.station.age_min
    if least is None or case.doing is Doing.SIGNS:
        return None
    person, station = case.person, case.station.name
    age = person.age
    if age is None and person.is_adult:
        # Somebody of age by their own word is of age and no older.
        age = case.rules.adult_age
    if age is not None and age >= least:
        return None
    # Apart from too young: the remedy is a date of birth and not another station.
    if person.age is None:
        return Reason(
            "minimum_age",
            f"{station} is for people of {least} and over, "
            f"and {person.short_name}'s age is not known.",
            "Write down the date of birth on their page.",
        )
    return Reason(
        "minimum_age",
        f"{station} is for people of {least} and over; {person.short_name} is {age}.",
        "Find a station that is open to their age.",
    )


def young_machines(case: Case) -> Reason | None:
    """A machine kept from young people, where the club adopted that policy."""
    if not case.rules.young_machines or case.doing is Doing.SIGNS:
        return None
    person, station = case.person, case.station
    # Of an age nobody wrote down, and no adult by their word: taken as the youngest.
    age = 0 if person.age is None and not person.is_adult else person.age
    if age is None or not is_kept_from(station.kind, age):
        return None
    return Reason(
        "young_machines",
        f"By the club's policy {machine_words(station.kind, age)}, and this is {station.name}; "
        f"{person.short_name} is {'of unknown age' if person.age is None else age}.",
        "Find a station that the policy leaves open, such as filling, tagging or greeting.",
    )


def waiver(case: Case) -> Reason | None:
    """No waiver that counts on the day."""
    if not case.rules.waiver_needed or case.person.has_waiver or case.doing is Doing.SIGNS:
        return None
    return Reason(
        "waiver",
        f"{case.person.short_name} has no waiver that counts on {spell_day(case.on)}.",
        "Give them the waiver to read and sign; whoever would rather not is thanked and visits.",
    )


def consent(case: Case) -> Reason | None:
    """A minor without a guardian's written consent, where the club asks for one."""
    person = case.person
    if not case.rules.consent_needed or person.is_adult or person.has_consent:
        return None
    return Reason(
        "consent",
        f"{person.short_name} counts as a minor and no guardian's written consent is on file.",
        "Have a guardian sign the consent, or write down the date of birth of a grown-up.",
    )


def personal_limits(case: Case) -> Reason | None:
    """The work goes against something the person asked us to heed."""
    person, station = case.person, case.station
    has_limits = person.no_dust or person.seated_only or person.no_heavy
    if case.doing is Doing.SIGNS or not has_limits:
        return None
    against = [
        words
        for is_against, words in (
            (person.no_dust and station.is_dusty, "has dust, straw or hay, and they keep away"),
            (person.seated_only and not station.can_sit, "is standing work, and they work seated"),
            (person.no_heavy and station.is_heavy, "is heavy lifting, and they lift nothing heavy"),
        )
        if is_against
    ]
    if not against:
        return None
    return Reason(
        "personal_limits",
        f"{station.name} is not for {person.short_name}: it {'; it '.join(against)}.",
        "Find a station that suits them; only they can tell us that the limit no longer holds.",
    )


GROUNDS: tuple[Ground, ...] = (
    same_shop, on_the_list, barred, with_a_lead, sign_off, prerequisites, minimum_age,
    young_machines, waiver, consent, personal_limits,
)  # fmt: skip

# Their sentences tell an age or a limit, which not everybody may see.
PRIVATE = frozenset({"minimum_age", "young_machines", "consent", "personal_limits"})

TITLES: dict[str, str] = {
    "same_shop": "Person and station belong to one shop",
    "on_the_list": "On the club's list",
    "barred": "No bar in force",
    "with_a_lead": "No suspension that asks for a lead",
    "sign_off": "A current sign-off at the level the work takes",
    "prerequisites": "Current sign-offs for what the station builds on",
    "minimum_age": "The station's minimum age",
    "young_machines": "Machines kept from young people, where the club adopted that policy",
    "waiver": "A waiver that counts",
    "consent": "A guardian's written consent for a minor, where the club asks for it",
    "personal_limits": "Personal limits: dust, seated work, heavy lifting",
}
