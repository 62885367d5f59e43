"""A shop in which anybody does anything in any order, and what must hold all the same."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from datetime import timedelta
from decimal import Decimal
from typing import Any, ClassVar
from uuid import uuid4

from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from inventory.ledger import actions
from inventory.ledger.checking import faults
from inventory.ledger.models import Balance, Entry, Line
from inventory.ledger.origins import origins_of
from inventory.materials.models import Item
from inventory.measures.lengths import feet, inches
from tests.factories import make_item, make_place, make_recipe, make_shop
from tests.inventory.ledger.conftest import AT

FEW = st.integers(0, 6)
PARTS = st.decimals("0.1", "3", places=1)
LENGTHS = st.sampled_from([inches(13), inches(31), feet(8), feet(20)])
DAYS_LATE = st.integers(0, 20)
EVERY = 25  # steps from one full check to the next: it reads the whole book


class AnyBook(RuleBasedStateMachine):
    """Goods in, making, cutting, carrying, judging, counting, taking back, sending twice."""

    longest: ClassVar[int] = 0

    @initialize()
    def open_shop(self) -> None:
        self.shop = make_shop(slug=f"shop-{uuid4().hex[:12]}")
        self.places = [make_place(self.shop), make_place(self.shop)]
        self.tube = make_item(self.shop, kind=Item.Kind.METAL, home=self.places[0])
        self.hay = make_item(self.shop, kind=Item.Kind.FILL, home=self.places[0])
        self.head = make_item(self.shop, home=self.places[1])
        self.set = make_item(self.shop, home=self.places[1], kind=Item.Kind.SET)
        self.recipe = make_recipe(self.head, (self.tube, 2, feet(2)), (self.hay, Decimal("0.3"), 0))
        self.put_together = make_recipe(self.set, (self.head, 1, 0), (self.hay, Decimal("0.5"), 0))
        self.steps, self.last = 0, None

    @rule(count=st.integers(1, 5), length_um=LENGTHS, where=st.integers(0, 1), late=DAYS_LATE)
    def sticks_come(self, count: int, length_um: int, where: int, late: int) -> None:
        self._do(
            actions.goods_in, late=late, item=self.tube, quantity=Decimal(count),
            place=self.places[where], length_um=length_um, source="Reed & Sons", is_donated=False,
        )  # fmt: skip

    @rule(quantity=PARTS, late=DAYS_LATE)
    def hay_comes(self, quantity: Decimal, late: int) -> None:
        self._do(
            actions.goods_in, late=late, item=self.hay, quantity=quantity, place=self.places[0],
            source="A farm", is_donated=True,
        )  # fmt: skip

    @rule(good=FEW, hold=FEW, scrap=FEW, cover=st.booleans(), is_set=st.booleans())
    def things_are_made(self, good: int, hold: int, scrap: int, cover: bool, is_set: bool) -> None:
        self._do(
            actions.make, recipe=self.put_together if is_set else self.recipe, good=good, hold=hold,
            scrap=scrap, cover_shortfall=cover,
        )  # fmt: skip

    @rule(pieces=st.integers(1, 6), where=st.integers(0, 1))
    def a_stick_is_cut(self, pieces: int, where: int) -> None:
        place = self.places[where]
        lines = [
            _metal(self.tube, -1, feet(8), place), _metal(self.tube, 1, feet(8)),
            _metal(self.tube, pieces, inches(13), place), _metal(self.tube, -pieces, inches(13)),
        ]  # fmt: skip
        self._do(actions.post, kind=Entry.Kind.CUT, lines=lines)

    @rule(quantity=PARTS, back=st.booleans())
    def hay_is_carried(self, quantity: Decimal, back: bool) -> None:
        source, target = reversed(self.places) if back else self.places
        self._do(actions.move, item=self.hay, quantity=quantity, source=source, target=target)

    @rule(
        count=st.integers(1, 4),
        which=st.sampled_from(
            ["hold", "release", "scrap", "return_goods", "set_out", "bring_back"]
        ),
        is_set=st.booleans(),
    )
    def things_are_judged(self, count: int, which: str, is_set: bool) -> None:
        self._do(
            getattr(actions, which), item=self.set if is_set else self.head,
            quantity=Decimal(count), place=self.places[1], reason="looked at",
        )  # fmt: skip

    @rule(quantity=st.decimals("0", "4", places=1))
    def hay_is_counted(self, quantity: Decimal) -> None:
        row = actions.Counted(self.hay, 0, "good", quantity)
        self._do(actions.count, place=self.places[0], counted=[row])

    @rule(which=st.integers(0, 60))
    def an_entry_is_taken_back(self, which: int) -> None:
        entries = Entry.objects.filter(shop=self.shop).order_by("-pk")[: which + 1]
        if entries:
            entry = entries[len(entries) - 1]
            self._try(lambda: actions.correct(entry, reason="wrong", by=None, at=AT))

    @rule()
    def the_last_one_is_sent_again(self) -> None:
        if self.last is not None:
            send, written = self.last
            before = Counter(self._balances())
            assert send().pk == written
            assert Counter(self._balances()) == before

    @invariant()
    def the_book_is_right_now_and_then(self) -> None:
        if hasattr(self, "shop"):
            self.steps += 1
            if self.steps % EVERY == 0:
                self._look()

    def teardown(self) -> None:
        if hasattr(self, "shop"):
            self._look()
            # The first invariant is asked before the first step.
            AnyBook.longest = max(AnyBook.longest, self.steps - 1)

    def _look(self) -> None:
        """Everything that must hold; every piece leads to what brought it."""
        assert list(faults(self.shop)) == []
        assert not Balance.objects.filter(item__shop=self.shop, quantity__lt=0).exists()
        for item in (self.tube, self.hay, self.head, self.set):
            there = Counter[int]()
            for row in Balance.objects.filter(item=item, quantity__gt=0):
                there[row.length_um] += row.quantity
            for batch in origins_of(item).batches:
                there[batch.length_um] -= batch.quantity
                assert batch.sources
                assert all(_brought(source.entry) for source in batch.sources)
            assert not any(there.values())

    def _balances(self) -> dict[int, Decimal]:
        return dict(Balance.objects.filter(item__shop=self.shop).values_list("pk", "quantity"))

    def _do(self, action: Callable[..., Entry | None], *, late: int = 0, **given: Any) -> None:
        key, at = uuid4(), AT - timedelta(days=late)

        def send() -> Entry | None:
            return action(shop=self.shop, by=None, at=at, client_key=key, **given)

        written = self._try(send)
        if written is not None:
            self.last = send, written.pk

    def _try(self, work: Callable[[], Entry | None]) -> Entry | None:
        try:
            return work()
        except actions.PostingRefused:
            return None


def _metal(item: Item, count: int, length_um: int, place: Any = None) -> actions.NewLine:
    account = Line.Account.SHELF if place else Line.Account.USED
    return actions.NewLine(item, account, Decimal(count), place, length_um=length_um)


def _brought(entry: Entry) -> bool:
    """Whether a trace may end there: with a delivery, a count, or what was not booked before."""
    if entry.kind in (Entry.Kind.GOODS_IN, Entry.Kind.COUNTED, Entry.Kind.RETURNED):
        return True
    return entry.lines.filter(account=Line.Account.DIFFERENCE, quantity__lt=0).exists()
