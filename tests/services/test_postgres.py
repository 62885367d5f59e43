"""The whole site on a real PostgreSQL: migrations, constraints, locks, the demo."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from tests.services.site import START, manage, python

pytestmark = pytest.mark.services

BROKEN = """
from django.db import IntegrityError, connection
from inventory.places.models import Shop
from inventory.materials.models import Item
from workshops.common.models import Job
shop = Shop.objects.get(slug="teal-point")
try:
    Job.objects.create(shop=shop, kind="x", progress=101)
except IntegrityError as error:
    print(connection.vendor, "job_progress_in_per_cent" in str(error))
"""


@pytest.fixture(scope="module")
def variables(new_database: Callable[[str], str]) -> dict[str, str]:
    """A site whose database is PostgreSQL, with a club in it."""
    variables = {"DATABASE_URL": new_database("club")}
    manage(*START, **variables)
    return variables


def test_the_database_keeps_its_constraints(variables: dict[str, str]) -> None:
    assert python(BROKEN, **variables) == "postgresql True"


def test_no_migration_is_waiting(variables: dict[str, str]) -> None:
    # The command ends with 1, which "manage" does not let pass, when a migration is waiting.
    assert "[ ]" not in manage("showmigrations", "--plan", **variables)
    assert manage("migrate", "--check", **variables) == ""


def test_the_demo_winter_loads_and_its_book_agrees(variables: dict[str, str]) -> None:
    assert "is loaded" in manage("load_demo", **variables)
    assert "the book is right" in manage("check_ledger", **variables)


def test_the_last_coordinator_is_kept_under_a_lock(variables: dict[str, str]) -> None:
    code = (
        "from workshops.access import actions; from workshops.access.models import Membership\n"
        "m = Membership.objects.get(user__username='carla')\n"
        "try:\n    actions.take_role(user=m.user, shop=m.shop)\n"
        "except actions.LastCoordinator:\n    print('kept')"
    )
    assert python(code, **variables) == "kept"
