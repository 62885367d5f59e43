"""Cut-overs are looked at in the administration and never rewritten there."""

from __future__ import annotations

from django.contrib.auth import get_user_model

from tests.workshops.stock.cut_over.scene import make_shift
from workshops.stock.models import CutOver


def test_cut_overs_are_shown_and_not_changed(client, shop) -> None:
    client.force_login(get_user_model().objects.create_superuser("root", password="r" * 12))
    shift = make_shift(shop)
    row = CutOver.objects.create(shop=shop, sheet=shift.sheet, before=shift.sheet)
    assert client.get("/admin/stock/cutover/").status_code == 200
    page = f"/admin/stock/cutover/{row.pk}"
    assert client.get("/admin/stock/cutover/add/").status_code == 403
    assert client.post(f"{page}/change/", {"by": ""}).status_code == 403
    assert client.post(f"{page}/delete/", {"post": "yes"}).status_code == 403
