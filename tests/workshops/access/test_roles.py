"""Roles are data: every one has a charge, and none may more than it should."""

from __future__ import annotations

import pytest

from workshops.access.models import Membership
from workshops.access.permissions import Permission
from workshops.access.roles import CHARGES, EVERYBODY, permissions_of

Role = Membership.Role


def test_every_role_has_a_charge_in_a_sentence() -> None:
    assert set(CHARGES) == set(Role)
    assert all(charge.says.endswith(".") for charge in CHARGES.values())


def test_the_coordinator_may_do_everything() -> None:
    assert permissions_of(Role.COORDINATOR) == frozenset(Permission)


def test_everybody_may_read_the_nights_and_the_build_sheets() -> None:
    assert all(permissions_of(role) >= EVERYBODY for role in Role.values)


def test_only_an_authoriser_and_the_coordinator_may_sign_people_off() -> None:
    holders = {role for role in Role.values if Permission.SIGN_OFF in permissions_of(role)}
    assert holders == {Role.AUTHORISER, Role.COORDINATOR}


@pytest.mark.parametrize("role", [Role.VOLUNTEER, Role.READER])
def test_a_volunteer_and_a_reader_may_change_nothing(role: str) -> None:
    assert all(permission.startswith("see_") for permission in permissions_of(role))


@pytest.mark.parametrize("role", [Role.VOLUNTEER, Role.READER, Role.STOREKEEPER, Role.AUTHORISER])
def test_private_facts_are_for_those_who_run_the_night(role: str) -> None:
    assert Permission.SEE_PRIVATE not in permissions_of(role)


def test_a_role_nobody_knows_allows_nothing() -> None:
    assert permissions_of("night owl") == frozenset()
