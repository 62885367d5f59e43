"""One night merged at random: two tablets, a bad network, a paper sheet; and what must come out.

What must come out is counted apart from the code: from the presses that reached the server, the
ones that took them back, and the rule of what a person decided. It knows nothing of bursts.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import timedelta
from random import Random
from typing import Any

from django.db.models import Sum
from django.test import RequestFactory
from django.utils import timezone

from inventory.ledger.models import Line
from tests.workshops.counting.tablet import SimulatedTablet
from workshops.access.models import User
from workshops.counting import actions
from workshops.counting.models import PaperLine
from workshops.counting.views.tally import share
from workshops.nights.models import Night
from workshops.stations.models import Operation

KINDS = ("good", "hold", "scrap")
Pieces = Counter[tuple[int, str]]  # (operation, kind): how many


@dataclass
class Merge:
    """One night's tablets and paper, driven by ``draw``."""

    night: Night
    operations: list[Operation]
    user: User
    draw: Random
    arrived: dict[str, Any] = field(default_factory=dict)  # key: tap, as it reached the server
    paper: Pieces = field(default_factory=Counter)
    decisions: dict[int, str] = field(default_factory=dict)

    def run(self) -> None:
        """Two tablets tap and share, one may be lost, a sheet is typed in some time."""
        tablets = [SimulatedTablet(name, self.post) for name in ("bench tablet", "door tablet")]
        paper_after = self.draw.randint(0, 7)
        for step in range(self.draw.randint(3, 6)):
            tablet = self.draw.choice(tablets)
            self.press(tablet)
            if self.draw.random() < 0.35:
                self.over_a_bad_network(tablet)
            if step == paper_after:
                self.decide()
        # The one that is lost shares nothing more.
        found = tablets[1:] if self.draw.random() < 0.2 else tablets
        for tablet in found:
            tablet.share()
            assert not tablet.waiting
        if paper_after > 5:
            self.decide()

    def press(self, tablet: SimulatedTablet) -> None:
        """Count, or take any press back."""
        own = [tap for tap in tablet.taps if tap.operation and not tap.is_back]
        if own and self.draw.random() < 0.25:
            tablet.take_back(self.draw.choice(own))
            return
        counted = {self.draw.choice(KINDS[:1] * 3 + KINDS): self.draw.choice([1, 10])}
        at = timezone.now() - timedelta(seconds=self.draw.randint(0, 120))
        tablet.tap(self.draw.choice(self.operations).pk, at, **counted)

    def over_a_bad_network(self, tablet: SimulatedTablet) -> None:
        """A batch that is lost, whose answer is lost, that comes twice, torn or turned round."""
        batch = tablet.batch()
        how = self.draw.choice(["lost", "no answer", "twice", "torn", "turned"])
        if how == "lost":
            return
        if how in ("torn", "turned"):
            self.draw.shuffle(batch["taps"])
        if how == "torn":
            batch["taps"] = batch["taps"][: len(batch["taps"]) // 2]
        answer = self.post(batch)
        if how == "twice":
            answer = self.post(batch)
        if how != "no answer":
            tablet.hear(answer)

    def post(self, batch: dict[str, Any]) -> Any:
        """To the real address; what arrives is noted for the count apart."""
        for tap in batch["taps"]:
            self.arrived.setdefault(tap["key"], tap)
        body = json.dumps(batch)
        request = RequestFactory().post("/", body, content_type="application/json")
        request.user = self.user
        answer = share(request, shop=self.night.shop.slug, on=self.night.date)
        assert answer.status_code == 200, answer.content
        return json.loads(answer.content)

    def decide(self) -> None:
        """A sheet about one operation, typed in and decided."""
        operation = self.draw.choice(self.operations)
        numbers = {kind: self.draw.choice([0, 1, 7, 12]) for kind in KINDS}
        if not any(numbers.values()):
            return
        counted = [actions.Counted(operation=operation, **numbers)]
        now = timezone.now()
        sheet = actions.type_in(
            night=self.night, number=None, counted=counted, counted_by="Bo", by=self.user, at=now
        )
        decision = self.draw.choice(PaperLine.Decision.values)
        line = sheet.lines.get()
        decided = [actions.Decided(line, decision, "Bo said so")]
        actions.decide(sheet=sheet, decided=decided, by=self.user, at=now)
        self.decisions[operation.pk] = decision
        self.paper.update({(operation.pk, kind): number for kind, number in numbers.items()})

    def must_be(self) -> Pieces:
        """The count apart."""
        back = {tap["takes_back"] for tap in self.arrived.values() if "takes_back" in tap}
        found: Pieces = Counter()
        for key, tap in self.arrived.items():
            if "operation" in tap and key not in back:
                found.update({(tap["operation"], kind): tap[kind] for kind in KINDS})
        for (operation, kind), written in self.paper.items():
            decision = self.decisions[operation]
            if decision == "more":
                found[operation, kind] += written
            elif decision == "same":
                found[operation, kind] = max(found[operation, kind], written)
        return +found


def in_the_ledger(night: Night, operations: list[Operation]) -> Pieces:
    """What the lines of the book say was made on the night, to the piece."""
    made = {operation.recipe.output_id: operation.pk for operation in operations}
    lines = Line.objects.filter(entry__night_key=night.date.isoformat(), item__in=made)
    rows = lines.order_by().values_list("item", "account", "condition").annotate(Sum("quantity"))
    found: Pieces = Counter()
    for item, account, condition, pieces in rows:
        if kind := _kind_of(account, condition):
            found[made[item], kind] += int(pieces)
    return +found


def _kind_of(account: str, condition: str) -> str:
    if account == Line.Account.SCRAP:
        return "scrap"
    return condition if account == Line.Account.SHELF else ""


def used_of(night: Night, item: int) -> int:
    """How much of a material the night used."""
    lines = Line.objects.filter(
        entry__night_key=night.date.isoformat(), item=item, account=Line.Account.USED
    )
    return int(lines.aggregate(all=Sum("quantity"))["all"] or 0)


def nights_of(first: Night, how_many: int) -> Iterator[Night]:
    """As many nights of the shop, a day each."""
    for day in range(1, how_many + 1):
        yield Night(
            shop=first.shop, date=first.date + timedelta(days=day), doors=first.doors,
            stop=first.stop, lock_up=first.lock_up,
        )  # fmt: skip
