"""A cut list for the rack, made on the eve of loading and begun: one stick of legs is cut."""

from __future__ import annotations

import uuid
from datetime import time

from inventory.cutting.actions import Done, cut, make_cut_list
from inventory.materials.models import Item
from inventory.measures.lengths import inches
from inventory.places.models import Shop
from workshops.access.models import User
from workshops.home.demo.days import Days

LEGS = 12  # for four three-leg stands


def load_cut_list(shop: Shop, *, by: User, days: Days) -> None:
    """Legs for four stands from the long tube; the first stick is ticked."""
    tube = Item.objects.select_related("shop", "home").get(shop=shop, slug="leg-tube")
    pieces = [("Stand leg", inches("79 1/2"), LEGS)]
    run = make_cut_list(shop=shop, item=tube, pieces=pieces, by=by)
    eve = days.day(-1)
    run.made_at = days.at(eve, time(19, 5))
    # Nobody's clock: two loads on one day give the same rows.
    run.seconds = 0.1
    run.save()
    key = uuid.uuid5(uuid.NAMESPACE_URL, f"{shop.slug}/cut-list/1")
    done = Done(by=by, at=days.at(eve, time(19, 40)), client_key=key)
    cut(run=run, pattern=0, sticks=1, done=done)
