"""The seal on answers, sparks and signatures: what was told is not told otherwise afterwards."""

from __future__ import annotations

from inventory.ledger.sealing import Guarded, Seal

SEAL = Seal(
    "the permit is append-only: write a new line instead",
    (Guarded("nights_permitanswer"), Guarded("nights_spark"), Guarded("nights_watchnote")),
)
