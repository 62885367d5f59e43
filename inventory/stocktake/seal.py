"""The seal on posted counts: who counted what, and what was agreed, stays as it was posted."""

from __future__ import annotations

from inventory.ledger.sealing import Guarded, Seal

OF_A_POSTED_SHEET = (
    "EXISTS (SELECT 1 FROM stocktake_countsheet AS sheet"
    " WHERE sheet.id = {row}.sheet_id AND sheet.posted_at IS NOT NULL)"
)

SEAL = Seal(
    "a posted count is append-only: what is found out now is a new count",
    (
        Guarded("stocktake_countsheet", "{row}.posted_at IS NOT NULL"),
        # Nor is anything counted on a sheet after it was posted.
        Guarded("stocktake_countline", OF_A_POSTED_SHEET, is_full=True),
        Guarded("stocktake_look", OF_A_POSTED_SHEET, is_full=True),
        Guarded("stocktake_settling"),
    ),
)
