"""A card says which parts of an old drawing its job takes first."""

from __future__ import annotations

from decimal import Decimal

import pytest

from inventory.ledger.models import Entry
from inventory.materials.models import RecipeLine
from tests.factories import make_sheet
from tests.workshops.paper.test_cards import cards
from workshops.nights.models import Night
from workshops.stock.models import CutOver, CutOverLine

pytestmark = pytest.mark.usefixtures("clock")


def half_made(night: Night) -> tuple[str, RecipeLine]:
    """The station of a card whose job takes something from the rack, and what it takes."""
    for name, card in cards(night).items():
        lines = card.lead.operation.recipe.lines.filter(item__kind="rack") if card.lead else ()
        for line in lines:
            return name, line
    raise AssertionError("no job of the night takes anything from the rack")


def test_old_parts_stand_first_among_the_checks_until_they_are_gone(night: Night) -> None:
    name, line = half_made(night)
    sheet = make_sheet(night.shop)
    row = CutOver.objects.create(
        shop=night.shop, sheet=sheet, before=sheet, last_entry=Entry.objects.latest("pk").pk
    )
    old = CutOverLine.objects.create(
        cut_over=row, item=line.item, place=line.item.home, condition="good",
        quantity=Decimal(3), use_up=Decimal(3),
    )  # fmt: skip
    says = f"Use up first: 3 {line.item} by rev {sheet.revision}."
    assert cards(night)[name].checks[0] == says
    CutOverLine.objects.filter(pk=old.pk).delete()
    assert says not in cards(night)[name].checks
