"""What somebody may see or do, as one list."""

from __future__ import annotations

from enum import StrEnum


class Permission(StrEnum):
    """One thing a role allows, named verb_thing: see_ reads, edit_ changes what is kept.

    The verbs that are neither (run, sign off, bar, post, make) name an act of the shop's
    own. A page asks for exactly one of these; templates find their values in ``may``.
    """

    SEE_HOME = "see_home"
    SEE_MINE = "see_mine"  # one's own nights, sign-offs, hours and details, and one's wards'
    SEE_NIGHTS = "see_nights"
    RUN_NIGHT = "run_night"  # plan, place, sign in and out, tally, permit, hand over
    EDIT_NIGHTS = "edit_nights"
    SEE_PEOPLE = "see_people"
    EDIT_PEOPLE = "edit_people"
    # Apart from seeing people: whoever runs a night needs a birthday, whoever reads a list does
    # not.
    SEE_PRIVATE = "see_private"  # contact, limits, date of birth
    ERASE_PEOPLE = "erase_people"  # and take out everything that is kept of one person
    SIGN_OFF = "sign_off"
    BAR_PEOPLE = "bar_people"
    SEE_STOCK = "see_stock"
    POST_STOCK = "post_stock"  # goods-in, count, move, scrap
    EDIT_STOCK = "edit_stock"  # items, recipes, places
    SEE_SHEETS = "see_sheets"
    EDIT_SHEETS = "edit_sheets"
    SEE_SEASON = "see_season"
    EDIT_SEASON = "edit_season"
    EDIT_RULES = "edit_rules"
    EDIT_MEMBERS = "edit_members"  # who may sign in, and as what
    SEE_TRAIL = "see_trail"  # who changed what
    MAKE_PAPER = "make_paper"
    SEE_JOBS = "see_jobs"
