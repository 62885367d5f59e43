"""The seal on checks: what somebody found is not found otherwise afterwards."""

from __future__ import annotations

from inventory.ledger.sealing import Guarded, Seal

SEAL = Seal(
    "checks are append-only: write a new one instead",
    (Guarded("quality_check"), Guarded("quality_held"), Guarded("quality_sorted")),
)
