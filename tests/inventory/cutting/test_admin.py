"""Cut lists and ticks in the admin: read, never written."""

from __future__ import annotations

import pytest
from django.test import Client

from inventory.cutting.models import CutTick
from workshops.access.models import User


@pytest.fixture
def chief(db: None) -> Client:
    """Somebody who may do everything the admin allows."""
    client = Client()
    client.force_login(User.objects.create_superuser("chief", password="winter-chief"))
    return client


def test_lists_and_ticks_are_shown_and_not_written(run, press, chief: Client) -> None:
    tick = press(run)
    for page in ("cutlistrun", "cuttick"):
        assert chief.get(f"/admin/cutting/{page}/").status_code == 200
    assert chief.get(f"/admin/cutting/cuttick/{tick.pk}/change/").status_code == 200
    assert chief.get(f"/admin/cutting/cuttick/{tick.pk}/delete/").status_code == 403
    assert chief.get("/admin/cutting/cuttick/add/").status_code == 403
    assert CutTick.objects.count() == 1
