"""The shop before its drawing changes."""

from __future__ import annotations

import pytest

from inventory.places.models import Shop
from tests.workshops.stock.cut_over.scene import Shift, make_shift


@pytest.fixture
def shift(shop: Shop, clock) -> Shift:
    """Revision A in force; nothing lies anywhere yet."""
    return make_shift(shop)
