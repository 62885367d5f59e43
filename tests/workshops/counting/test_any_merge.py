"""Any merge of two offline tablets and a paper sheet is exact, to the piece, in the ledger."""

from __future__ import annotations

import os
from decimal import Decimal
from random import Random

import pytest

from inventory.ledger.queries import check
from tests.factories import make_item, make_operation, make_recipe, make_station
from tests.workshops.counting.merges import Merge, in_the_ledger, nights_of, used_of
from workshops.access.models import User
from workshops.nights.models import Night
from workshops.stations.models import Operation

# A merge is a dozen requests and counts: sixty in the ordinary run, two thousand
# where time does not matter.
MERGES = 2_000 if os.environ.get("HYPOTHESIS_PROFILE") == "long" else 30
RODS = 2  # of the material, for each piece of the first operation


@pytest.fixture
def rod(shop):
    return make_item(shop, name="Rod")


@pytest.fixture
def operations(shop, rod) -> list[Operation]:
    station = make_station(shop)
    bent = make_recipe(make_item(shop, name="Bent"), (rod, Decimal(RODS), 0))
    return [make_operation(station, bent), make_operation(station)]


def test_every_merge_is_exact(scene, operations, duty_lead: User, rod) -> None:
    nights = Night.objects.bulk_create(nights_of(scene.night, MERGES))
    draw = Random(20)
    kinds = set()
    for night in nights:
        merge = Merge(night, operations, duty_lead, draw)
        merge.run()
        must_be = merge.must_be()
        assert in_the_ledger(night, operations) == must_be, f"{night.date}"
        bent = sum(pieces for (pk, _), pieces in must_be.items() if pk == operations[0].pk)
        assert used_of(night, rod.pk) == RODS * bent
        kinds |= set(merge.decisions.values())
    assert kinds == {"same", "more", "tablets"}
    assert list(check(scene.shop)) == []
