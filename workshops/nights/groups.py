"""What the page of a group shows: who is who, whose papers are missing, the club's ratio."""

from __future__ import annotations

from dataclasses import dataclass

from workshops.nights.models import Group
from workshops.people.facts import PersonFacts
from workshops.people.gate import register_on
from workshops.people.names import short_names


@dataclass(frozen=True, slots=True)
class GroupMember:
    """One of the group, as the register has them on the night."""

    facts: PersonFacts
    name: str
    papers: tuple[str, ...]

    @property
    def is_unnamed(self) -> bool:
        """Whether the name is still to be told."""
        return self.facts.first_name.startswith("Guest ")


@dataclass(frozen=True, slots=True)
class GroupPage:
    """A group with its leaders first."""

    group: Group
    leaders: list[GroupMember]
    members: list[GroupMember]
    ratio: str

    @property
    def missing(self) -> int:
        """How many have a paper missing."""
        return sum(bool(each.papers) for each in (*self.leaders, *self.members))

    @property
    def unnamed(self) -> int:
        """How many names are still to be told."""
        return sum(each.is_unnamed for each in self.members)


def group_page(group: Group) -> GroupPage:
    """A group on its night: eleven queries for any size."""
    register = register_on(group.shop, group.night.date)
    names = short_names(register.people.values())
    rules = register.rules

    def shown(pk: int) -> GroupMember:
        facts = register.people[pk]
        papers = ["waiver"] if rules.waiver_needed and not facts.has_waiver else []
        if rules.consent_needed and not facts.is_adult and not facts.has_consent:
            papers.append("consent")
        return GroupMember(facts, names[pk], tuple(papers))

    leaders = [shown(pk) for pk in group.leaders.values_list("pk", flat=True)]
    # In the order of the door: whoever is named later stays in the same line.
    members = [shown(pk) for pk in sorted(group.members.values_list("pk", flat=True))]
    minors = sum(not each.facts.is_adult for each in members)
    return GroupPage(
        group, leaders, members, ratio_of(minors, len(leaders), rules.minors_per_adult)
    )


def ratio_of(minors: int, adults: int, most: int | None) -> str:
    """What the club's rule on minors for each free adult says of a group; empty without minors."""
    if not minors:
        return ""
    told = f"{minors} minor{'s' * (minors != 1)}, {adults} leader{'s' * (adults != 1)}"
    if most is None:
        return f"{told}. The club has set no number of minors for each free adult."
    needed = -(-minors // most) if most else minors
    if needed <= adults:
        return f"{told}: within the club's one free adult for {most}, while the leaders stay free."
    more = needed - adults
    return (
        f"{told}: the club asks for one free adult for {most}, so {more} more "
        f"adult{'s' * (more != 1)} must stay free of a helmet and of the fire watch."
    )
