"""Roles as data: what each of the six lets its holder see and do."""

from __future__ import annotations

from dataclasses import dataclass

from workshops.access.models import Membership
from workshops.access.permissions import Permission

Role = Membership.Role

# What everybody who signs in may read: nothing here is private to one person.
EVERYBODY = frozenset(
    {
        Permission.SEE_HOME,
        Permission.SEE_MINE,
        Permission.SEE_NIGHTS,
        Permission.SEE_SHEETS,
        Permission.SEE_SEASON,
    }
)


@dataclass(frozen=True)
class Charge:
    """What a role is for, in one sentence, and what it allows."""

    says: str
    allows: frozenset[Permission]


CHARGES: dict[Role, Charge] = {
    Role.COORDINATOR: Charge("Runs the winter: may do everything.", frozenset(Permission)),
    Role.DUTY_LEAD: Charge(
        "Runs a night: places people, keeps the roll and the permit, tallies, prints.",
        EVERYBODY
        | {
            Permission.RUN_NIGHT,
            Permission.SEE_PEOPLE,
            Permission.SEE_PRIVATE,
            Permission.BAR_PEOPLE,
        }
        | {Permission.SEE_STOCK, Permission.POST_STOCK, Permission.MAKE_PAPER, Permission.SEE_JOBS},
    ),
    Role.STOREKEEPER: Charge(
        "Keeps the stock: goods-in, counts, cut lists, items and their parts lists.",
        EVERYBODY
        | {
            Permission.SEE_STOCK,
            Permission.POST_STOCK,
            Permission.EDIT_STOCK,
            Permission.MAKE_PAPER,
            Permission.SEE_JOBS,
        },
    ),
    Role.AUTHORISER: Charge(
        "Signs people off for stations, and stops them when something went wrong.",
        EVERYBODY
        | {Permission.SEE_PEOPLE, Permission.SIGN_OFF, Permission.BAR_PEOPLE, Permission.SEE_STOCK},
    ),
    Role.VOLUNTEER: Charge(
        "Sees the nights, the build sheets and how the winter goes; answers for their own nights.",
        EVERYBODY,
    ),
    Role.READER: Charge(
        "Reads for the committee: nights, stock, build sheets and the winter.",
        EVERYBODY | {Permission.SEE_STOCK},
    ),
}


def permissions_of(role: str) -> frozenset[Permission]:
    """What the role allows; nothing for a role nobody knows."""
    # A role that was taken out of the code may still stand in a row: it opens nothing.
    charge = CHARGES.get(Role(role)) if role in Role.values else None
    return charge.allows if charge else frozenset()
