"""Every address that takes a POST, and what was decided about it: can it stand anybody anywhere?

The addresses come from ``tests/addresses.py``; one that takes a POST and has no decision here
fails a test.
"""

from __future__ import annotations

import inspect
from enum import StrEnum

from tests.addresses import Address, every_address


class Door(StrEnum):
    """What an address can do to who stands where."""

    PLACES = "places, signs in, or counts what somebody worked"
    REGISTER = "changes what the register says of somebody, or what a station asks"
    NOTHING = "says nothing of who may do what, or where anybody stands"


P, R, N = Door.PLACES, Door.REGISTER, Door.NOTHING

DOORS: dict[str, Door] = {
    "flow:swap": P,
    "nights:plan": P, "nights:move": P, "nights:lock": P,
    "nights:step_back": P, "nights:step_again": P,
    "nights:rest": P, "nights:sign_in": P,
    "nights:sign_out": P,
    "counting:tally": P, "counting:undo": P, "counting:share": P, "counting:mend": P,
    "counting:sheet": P, "nights:permit": P,
    "nights:watch_turn": P, "lockup:close": P, "nights:coming": P,
    "people:sign": R, "people:enter": R, "people:bar": R, "people:lift": R, "people:review": R,
    "people:life": R, "people:edit": R, "people:waiver": R, "people:guardian": R,
    "people:account": R, "people:walk_in": R, "people:add": R,
    # A line of the timetable stands nobody anywhere, but the next plan reads it.
    "training:timetable": P, "training:take": P, "training:resign_one": R,
    "training:drop": N, "training:weigh": N, "training:warn": N,
    "stations:edit": R, "club:rule": R, "club:usual": R,
    # A file that waits, and the answers about it; only to write it changes anything.
    "people:bring": N, "people:answer_list": N, "people:throw_list": N, "people:write_list": R,
    "people:merge": R,
    # It takes away, and leaves the register as it was.
    "people:erase": N,
    # What a sheet says waits for its decision; a lost tablet counts nothing.
    "counting:sheets": N, "counting:lose": N,
    # A new night, and one that is off, have nobody in them.
    "nights:add": N, "nights:repeat": N, "nights:cancel": N,
    # Other times move nobody anywhere: the board tells whom a rule stops then.
    "nights:times": N,
    # The others are placed anew; the lines of the timetable go with a night called off.
    "tonight:not_coming": P, "tonight:back": P, "tonight:training": P,
    # Who was asked and whether they come, as "nights:coming"; the rest tells and shows.
    "tonight:asked": N, "tonight:replied": N, "tonight:phones": N,
    "tonight:off": N, "tonight:tell": N, "tonight:rung": N, "tonight:ring_list": N,
    # Points, sparks, signatures and steps stand nobody anywhere.
    "nights:permit_points": N, "nights:spark": N, "nights:watch_sign": N, "nights:permit_ask": N,
    "lockup:steps": N, "lockup:read": N,
    # A group brings new people, who have no sign-off; the rest of these only show.
    # As signing in and out, which are tried: who is on the roll stands at no station by it.
    "nights:take_back": N, "nights:forgotten": N, "nights:group_in": N, "nights:group_out": N,
    "nights:kept_tap": N, "nights:hand": N,
    # A stranger has no sign-off; a waiver at the door is that of "people:waiver", tried above.
    "nights:door_walk_in": N, "nights:signed_here": N,
    "nights:group": N, "nights:new_group": N, "nights:contacts": N, "people:private": N,
    # Whether somebody comes, as "nights:coming" which is tried, and one's own details.
    "mine:ask": N, "mine:open": N, "mine:answer": N, "mine:details": N, "mine:feed": N,
    # A job that was cut off runs again as it was asked: the plan door, tried above.
    "common:job_again": N,
    "access:sign_in": N, "access:sign_out": N, "access:password": N, "access:members": N,
    "access:member": N, "access:again": N, "access:forgotten": N, "access:new_password": N,
    "access:let_in": N,
    # A station is closed, which only takes people away; one that is open again still asks the gate
    # who may stand there. To see a lead is a bar, set by the register's own action.
    "trouble:night": N, "trouble:reopen": N, "trouble:one": N, "trouble:see_lead": N,
    "trouble:day_after": N, "trouble:phone": N,
    # Pieces are checked, held and sorted; nobody is let to a station by that.
    "quality:checks": N, "quality:check": N, "quality:held": N, "quality:further": N,
    "season:begin": N, "season:target": N, "season:ice": N, "season:outlook": N,
    # A new station has nobody at it, and no sign-off.
    "stations:add": N, "stations:add_operation": N, "stations:operation": N, "stations:rooms": N,
    "stations:add_tool": N, "stations:tool_out": N, "stations:tool_back": N,
    # A tool is looked at; with the club's rule it is then used again, and the plan asks by itself.
    "stations:inspections": N,
    "stations:add_sheet": N, "stations:edit_sheet": N, "stations:check_sheet": N,
    "stations:put_part": N, "stations:part_off": N, "stations:revise": N, "stations:in_force": N,
    "stations:supersede": N, "stations:add_part": N, "stations:part": N, "stations:check_part": N,
}  # fmt: skip

# The stock and the paper change nothing about people: none of their modules reaches for the
# actions of nights or people, which ``test_doors`` proves of their source.
KNOWS_NO_PEOPLE = ("stock", "paper")


def takes_posts(address: Address) -> bool:
    """Whether the view behind the address reads what is posted, as its source says."""
    if hasattr(address.view, "view_class"):
        return hasattr(address.view.view_class, "post")
    source = inspect.getsource(inspect.unwrap(address.view))
    return any(word in source for word in ("POST", "WRITES", "kept("))


def posting() -> set[str]:
    """The addresses that take a POST, but for those of slices that know no people."""
    return {
        address.name
        for address in every_address()
        if takes_posts(address) and address.name.partition(":")[0] not in KNOWS_NO_PEOPLE
    }
