"""The seal on the readings: what a thermometer said is not made cooler afterwards."""

from __future__ import annotations

from inventory.ledger.sealing import Guarded, Seal

SEAL = Seal("readings are append-only: enter a correction instead", (Guarded("readings_reading"),))
