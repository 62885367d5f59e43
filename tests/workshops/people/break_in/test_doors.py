"""No door is forgotten: every address that takes a POST, and every module that writes a placing."""

from __future__ import annotations

import re
from pathlib import Path

from tests.floors import ROOT
from tests.workshops.people.break_in.by_views import TRIED
from tests.workshops.people.break_in.doors import DOORS, KNOWS_NO_PEOPLE, Door, posting

# The only modules that make rows of who stands, stood or worked where.
WRITE_STANDING = {
    "workshops/nights/translate.py",  # the plan's rows, not saved
    "workshops/nights/weighing.py",
    "workshops/nights/actions/by_hand.py",
    "workshops/nights/actions/placing.py",
    "workshops/nights/actions/steps.py",
    "workshops/nights/actions/swapping.py",
    "workshops/people/uses.py",
    "workshops/home/demo/standing.py",  # the invented winter; tested below home
}
# The only modules that may make a sign-off: signed, taken over, copied for one met twice.
WRITE_SIGN_OFFS = {
    "workshops/people/signing.py", "workshops/people/merging.py", "workshops/home/demo/people.py",
}  # fmt: skip
# The only modules outside of nights that call its actions.
CALL_NIGHTS = {
    "workshops/flow/views.py",
    "workshops/home/demo/steps.py", "workshops/home/demo/standing.py",
    "workshops/season/actions.py", "workshops/trouble/actions.py",
    "workshops/lockup/actions.py", "workshops/lockup/views.py",  # closing, which stands nobody
    "workshops/tonight/actions/asking.py", "workshops/tonight/actions/snow.py",
    "workshops/tonight/actions/tapping.py",
    "workshops/counting/actions/bursts.py", "workshops/counting/actions/mending.py",
    "workshops/counting/actions/settling.py", "workshops/counting/actions/sharing.py",
    "workshops/counting/views/tally.py",  # counts alone
    "workshops/training/actions.py", "workshops/training/views/timetable.py",
    "workshops/mine/forms.py", "workshops/mine/views/nights.py",  # sign-ups alone
}  # fmt: skip


def sources() -> list[tuple[str, str]]:
    paths = sorted(Path(ROOT, "workshops").rglob("*.py"))
    return [(path.relative_to(ROOT).as_posix(), path.read_text()) for path in paths]


def matching(pattern: str) -> set[str]:
    found = {place for place, text in sources() if re.search(pattern, text)}
    # The engine has a placing of its own, which is no row.
    return {place for place in found if not {"migrations", "engine"} & set(place.split("/"))}


def test_a_decision_is_recorded_for_every_address_that_takes_a_post() -> None:
    assert posting() == set(DOORS), "decide in doors.py what this address can do"


def test_every_door_that_places_or_changes_the_register_is_tried() -> None:
    assert {name for name, door in DOORS.items() if door is not Door.NOTHING} == set(TRIED)


def test_nothing_else_writes_who_stands_where() -> None:
    makes = r"\b(Placing|Use)(\.objects\.(\w+_)?(create|update)|\()"
    declared = r"class (Placing|Use)\("
    assert matching(makes) - matching(declared) == WRITE_STANDING


def test_nothing_else_writes_sign_offs() -> None:
    makes = r"\bSignOff(\.objects\.(\w+_)?create|\()"
    writes = matching(makes) - matching(r"class SignOff\(|engine\.SignOff\(")
    assert writes <= WRITE_SIGN_OFFS


def test_nothing_else_calls_the_actions_of_nights() -> None:
    calls = matching(r"workshops\.nights\.actions|from workshops\.nights import actions")
    assert {place for place in calls if "workshops/nights/" not in place} == CALL_NIGHTS


def test_the_stock_and_the_paper_reach_for_no_person() -> None:
    reaches = matching(
        r"workshops\.(nights|people)\.actions|people\.models import .*\b(SignOff|Bar)\b"
    )
    assert not {place for place in reaches if place.split("/")[1] in KNOWS_NO_PEOPLE}
