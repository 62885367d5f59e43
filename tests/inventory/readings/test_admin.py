"""The log is looked at in the administration and never rewritten there."""

from __future__ import annotations

from django.contrib.auth import get_user_model


def test_readings_are_shown_and_not_changed(client, probe) -> None:
    client.force_login(get_user_model().objects.create_superuser("root", password="r" * 12))
    kept = probe("90", lot="north wall")
    assert "north wall" in client.get("/admin/readings/reading/").content.decode()
    page = f"/admin/readings/reading/{kept.pk}"
    assert client.get("/admin/readings/reading/add/").status_code == 403
    assert client.post(f"{page}/change/", {"temperature": 1}).status_code == 403
    assert client.post(f"{page}/delete/", {"post": "yes"}).status_code == 403
