"""The cast, two shops and a clock that stands still."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import hypothesis
import pytest
import time_machine
from django.conf import settings
from django.db import connection
from django.test import Client

from inventory.places.models import Shop
from tests import factories
from tests.migrated import fill_migrated
from tests.workers import ByFile
from workshops.access.models import Membership, User

Role = Membership.Role

# A Wednesday, the hour the doors open, in the shop's own time.
NOW = datetime(2026, 1, 14, 18, 0, tzinfo=ZoneInfo("America/Chicago"))


# No property has a deadline: other work may share the machine.
hypothesis.settings.register_profile("unhurried", deadline=None)
hypothesis.settings.load_profile("unhurried")


def pytest_configure() -> None:
    """Sign people in without the slow hashing that protects real passwords.

    And look for a static file when it is asked for: every client of a test would otherwise
    read all of them at its first page.
    """
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    settings.WHITENOISE_AUTOREFRESH = True


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> ByFile:
    """Deal the tests out by file; known only where several workers may run them."""
    return ByFile(config, log)


@pytest.fixture(scope="session")
def django_db_setup(django_test_environment: None, django_db_blocker: Any) -> Iterator[None]:
    """The database of the tests: in memory, a copy of the one that was migrated once for all.

    Where ``DATABASE_URL`` names another kind of database, a new one is made there and migrated.
    """
    own = connection.settings_dict["NAME"]
    is_copied = connection.vendor == "sqlite"
    with django_db_blocker.unblock():
        if is_copied:
            name = "file:tests?mode=memory&cache=shared"
            settings.DATABASES["default"]["NAME"] = connection.settings_dict["NAME"] = name
            fill_migrated(connection)
        else:
            connection.creation.create_test_db(verbosity=0, autoclobber=True)
    yield
    if not is_copied:
        with django_db_blocker.unblock():
            connection.creation.destroy_test_db(own, verbosity=0)


@pytest.fixture(autouse=True)
def jobs_at_once(settings: Any, tmp_path: Path) -> None:
    """Jobs run as soon as they are committed, and papers are written to a folder of the test."""
    settings.JOBS_RUN_AT_ONCE = True
    settings.MEDIA_ROOT = tmp_path / "media"


@pytest.fixture
def clock() -> Iterator[time_machine.Traveller]:
    """Wednesday 14 January 2026, 18:00 in the shop; ``clock.shift(60)`` moves it on."""
    with time_machine.travel(NOW, tick=False) as traveller:
        yield traveller


@pytest.fixture
def shop(db: None) -> Shop:
    """The shop of the cast."""
    return factories.make_shop()


@pytest.fixture
def other_shop(db: None) -> Shop:
    """Another club's shop: nothing of it may show in the first."""
    return factories.make_shop(name="Mallow Creek", slug="mallow-creek", time_zone="Europe/Oslo")


@pytest.fixture
def coordinator(shop: Shop) -> User:
    """Carla runs the winter."""
    return factories.make_member(shop, "carla", Role.COORDINATOR)


@pytest.fixture
def duty_lead(shop: Shop) -> User:
    """Dov runs tonight."""
    return factories.make_member(shop, "dov", Role.DUTY_LEAD)


@pytest.fixture
def storekeeper(shop: Shop) -> User:
    """Signe keeps the stock."""
    return factories.make_member(shop, "signe", Role.STOREKEEPER)


@pytest.fixture
def authoriser(shop: Shop) -> User:
    """Arno signs people off."""
    return factories.make_member(shop, "arno", Role.AUTHORISER)


@pytest.fixture
def volunteer(shop: Shop) -> User:
    """Vera comes to help."""
    return factories.make_member(shop, "vera", Role.VOLUNTEER)


@pytest.fixture
def reader(shop: Shop) -> User:
    """Rune reads for the committee."""
    return factories.make_member(shop, "rune", Role.READER)


@pytest.fixture
def stranger(other_shop: Shop) -> User:
    """Stan coordinates the other shop, and is nobody in the first."""
    return factories.make_member(other_shop, "stan", Role.COORDINATOR)


@pytest.fixture
def client_of() -> Callable[[User], Client]:
    """A browser in which the user has signed in."""

    def signed_in(user: User) -> Client:
        client = Client()
        client.force_login(user)
        return client

    return signed_in


@pytest.fixture
def lead(duty_lead: User, client_of: Callable[[User], Client]) -> Client:
    """The duty lead's browser."""
    return client_of(duty_lead)


@pytest.fixture
def boss(coordinator: User, client_of: Callable[[User], Client]) -> Client:
    """The coordinator's browser."""
    return client_of(coordinator)


@pytest.fixture
def guest(volunteer: User, client_of: Callable[[User], Client]) -> Client:
    """A volunteer's browser."""
    return client_of(volunteer)
