"""A drill on a night: pieces counted, pieces checked, in the shop's own time."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any
from uuid import uuid4

from inventory.ledger.queries import on_hand_of
from inventory.materials.models import Item
from tests.workshops.nights.scene import Scene
from workshops.nights import actions as nights
from workshops.nights.models import Tally
from workshops.quality.actions import Counts, Finding, check_piece, sort_held
from workshops.quality.models import Check, Held, Sorted
from workshops.stations.models import Operation


@dataclass
class Bench:
    """What the tests do there."""

    scene: Scene

    def operation(self, name: str) -> Operation:
        return Operation.objects.select_related("recipe__output", "station").get(slug=name)

    def count(self, good: int, clock: str, name: str = "drill") -> Tally:
        return nights.tally(
            night=self.scene.night, operation=self.operation(name), at=self.scene.at(clock),
            by=None, good=good,
        )  # fmt: skip

    def check(
        self, is_good: bool, clock: str, name: str = "drill", *, corrects: Check | None = None,
        **fields: Any,
    ) -> Check:  # fmt: skip
        usual = {"kind": Check.Kind.NTH, "checked_by": "Ada R.", "client_key": uuid4()}
        words = {} if is_good else {"words": "hole 1/4 in off"}
        return check_piece(
            night=self.scene.night, operation=self.operation(name), by=None,
            found=Finding(is_good=is_good, **(usual | words | fields)), at=self.scene.at(clock),
            corrects=corrects,
        )  # fmt: skip

    def sort(self, held: Held, clock: str = "20:00", **fields: Any) -> Sorted:
        counts = {name: fields.pop(name, 0) for name in ("good", "rework", "scrap")}
        given = {"sorted_by": "Bo R.", "by": None} | fields
        return sort_held(held=held, counts=Counts(**counts), at=self.scene.at(clock), **given)

    def there(self, item: Item) -> tuple[int, int]:
        """Good ones and those on hold."""
        held = on_hand_of(item)
        return int(held.good), int(held.hold)
