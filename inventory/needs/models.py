"""The kept runs of the needs engine."""

from __future__ import annotations

from inventory.engines.models import EngineRun
from inventory.places.models import OfShop


class NeedsRun(OfShop, EngineRun):
    """One answer to: what do we have, what runs out first, what must be bought by when."""

    def __str__(self) -> str:
        return f"Needs on {self.made_at:%Y-%m-%d}"
