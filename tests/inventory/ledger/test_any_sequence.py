"""Whatever is done in whatever order, balances are the sums of their lines and never negative."""

from __future__ import annotations

from decimal import Decimal
from uuid import uuid4

import pytest
from django.db.models import Sum
from hypothesis import HealthCheck
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase as DatabaseCase
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from inventory.ledger import actions
from inventory.ledger.models import Balance, Entry, Line
from inventory.ledger.queries import check
from inventory.materials.models import Item
from inventory.measures.lengths import feet, inches
from tests.examples import examples
from tests.factories import make_item, make_place, make_recipe, make_shop
from tests.inventory.ledger.conftest import AT

FEW = st.integers(0, 6)
PARTS = st.decimals("0.1", "3", places=1)
LENGTHS = st.sampled_from([inches(13), inches(31), feet(8), feet(20)])


class Book(RuleBasedStateMachine):
    """A shop in which anybody does anything."""

    @initialize()
    def open_shop(self) -> None:
        self.shop = make_shop(slug=f"shop-{uuid4().hex[:12]}")
        self.places = [make_place(self.shop), make_place(self.shop)]
        self.tube = make_item(self.shop, kind=Item.Kind.METAL, home=self.places[0])
        self.hay = make_item(self.shop, kind=Item.Kind.FILL, home=self.places[0])
        self.head = make_item(self.shop, home=self.places[1])
        self.recipe = make_recipe(self.head, (self.tube, 2, feet(2)), (self.hay, Decimal("0.3"), 0))
        self.who = {"by": None, "at": AT}

    @rule(count=st.integers(1, 5), length_um=LENGTHS, where=st.integers(0, 1))
    def sticks_come(self, count: int, length_um: int, where: int) -> None:
        actions.goods_in(
            shop=self.shop, item=self.tube, quantity=Decimal(count), place=self.places[where],
            length_um=length_um, source="Reed & Sons", is_donated=False, **self.who,
        )  # fmt: skip

    @rule(quantity=PARTS)
    def hay_comes(self, quantity: Decimal) -> None:
        actions.goods_in(
            shop=self.shop, item=self.hay, quantity=quantity, place=self.places[0],
            source="A farm", is_donated=True, **self.who,
        )  # fmt: skip

    @rule(good=FEW, hold=FEW, scrap=FEW, cover=st.booleans())
    def heads_are_made(self, good: int, hold: int, scrap: int, cover: bool) -> None:
        self._try(
            actions.make, recipe=self.recipe, good=good, hold=hold, scrap=scrap,
            cover_shortfall=cover,
        )  # fmt: skip

    @rule(quantity=PARTS, back=st.booleans())
    def hay_is_carried(self, quantity: Decimal, back: bool) -> None:
        source, target = reversed(self.places) if back else self.places
        self._try(actions.move, item=self.hay, quantity=quantity, source=source, target=target)

    @rule(count=st.integers(1, 4), which=st.sampled_from(["hold", "release", "scrap"]))
    def heads_are_judged(self, count: int, which: str) -> None:
        self._try(
            getattr(actions, which), item=self.head, quantity=Decimal(count),
            place=self.places[1], reason="looked at",
        )  # fmt: skip

    @rule(quantity=st.decimals("0", "4", places=1))
    def hay_is_counted(self, quantity: Decimal) -> None:
        row = actions.Counted(self.hay, 0, "good", quantity)
        actions.count(shop=self.shop, place=self.places[0], counted=[row], **self.who)

    @rule(which=st.integers(0, 30))
    def an_entry_is_taken_back(self, which: int) -> None:
        entries = list(Entry.objects.filter(shop=self.shop))
        if entries:
            entry = entries[which % len(entries)]
            try:
                actions.correct(entry, reason="wrong", **self.who)
            except actions.PostingRefused:
                return

    @invariant()
    def balances_are_the_sums_of_their_lines(self) -> None:
        if hasattr(self, "shop"):
            assert check(self.shop) == ()

    @invariant()
    def nothing_is_negative(self) -> None:
        assert not Balance.objects.filter(quantity__lt=0).exists()

    @invariant()
    def every_item_and_length_adds_up_to_nothing(self) -> None:
        sums = Line.objects.order_by().values("item", "length_um").annotate(all=Sum("quantity"))
        assert all(abs(row["all"]) < Decimal("0.0001") for row in sums)

    def _try(self, action, **given) -> None:
        try:
            action(shop=self.shop, **given, **self.who)
        except actions.PostingRefused:
            return


@pytest.mark.django_db
class TestAnySequence(DatabaseCase, Book.TestCase):
    settings = examples(
        12,
        stateful_step_count=40,
        suppress_health_check=list(HealthCheck),
    )
