"""A build sheet and a clock for the pages."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.test import Client

from inventory.places.models import Shop
from tests.factories import TODAY
from tests.workshops.stations.geometry.sheets import CYLINDER
from tests.workshops.stations.sheet_rows import keep_sheet
from workshops.access.models import User
from workshops.stations.models import BuildSheet

ClientOf = Callable[[User], Client]


@pytest.fixture(autouse=True)
def _clock(clock: object) -> None:
    """Every page of these tests is looked at on the same evening."""


@pytest.fixture
def draft(shop: Shop) -> BuildSheet:
    """A draft of the single-post cylinder."""
    return keep_sheet(shop, CYLINDER)


@pytest.fixture
def in_force(shop: Shop) -> BuildSheet:
    """The single-post cylinder in force."""
    return keep_sheet(
        shop, CYLINDER, status=BuildSheet.Status.IN_FORCE, in_force_from=TODAY,
        drawn=CYLINDER.to_json(),
    )  # fmt: skip


def url(row: BuildSheet, page: str = "") -> str:
    """The address of a build sheet, or of a page below it."""
    return f"/teal-point/build-sheets/{row.pk}/{page}"
