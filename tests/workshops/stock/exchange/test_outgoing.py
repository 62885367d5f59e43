"""What goes out comes in again as it is, and makes the same book elsewhere."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from io import BytesIO

import pytest
from django.utils import timezone
from hypothesis import given
from hypothesis import strategies as st

from inventory.ledger import actions as ledger
from inventory.ledger.models import Balance, Entry, Line
from inventory.ledger.queries import check
from inventory.materials.actions import edit_item
from inventory.materials.queries import recipe_of
from inventory.measures.lengths import feet
from tests.examples import examples
from workshops.common.sheets import write_xlsx
from workshops.common.uploads import keep_upload
from workshops.stock.exchange.ends import End, flows
from workshops.stock.exchange.fates import Fate
from workshops.stock.exchange.kinds import KINDS
from workshops.stock.exchange.outgoing import rows_out, template_rows
from workshops.stock.exchange.preview import preview_of

ACCOUNTS = [Line.Account.USED, Line.Account.SCRAP, Line.Account.OUTSIDE]


@pytest.fixture
def lived_in(stock, storekeeper):
    """A book with everything in it that can happen."""
    given = {"shop": stock.shop, "by": storekeeper, "at": timezone.now()}
    stock.bring(stock.tube, 9, feet(20))
    stock.bring(stock.straw, 5)
    for part in (stock.post, stock.head, stock.cylinder):
        ledger.make(recipe=recipe_of(part), good=2, hold=1, scrap=1, **given)
    ledger.hold(item=stock.rings, quantity=Decimal(1), place=stock.rings.home, reason="=wet, a;b",
                **given)  # fmt: skip
    moved = ledger.move(item=stock.straw, quantity=Decimal("0.5"), source=stock.straw.home,
                        target=stock.tube.home, **given)  # fmt: skip
    ledger.correct(moved, reason="the wrong place", by=storekeeper, at=timezone.now())
    edit_item(item=stock.tube, wall_um=2_108, supplier='Reed & "Sons"')
    return stock


@pytest.mark.parametrize(("form", "units"), [("csv", "in"), ("xlsx", "mm")])
@pytest.mark.parametrize("kind", KINDS)
def test_every_row_that_went_out_is_there_already(kind, form, units, lived_in, shop, bring,
                                                  storekeeper) -> None:  # fmt: skip
    shop.units = units
    shop.save()
    upload = bring(kind, list(rows_out(kind, shop)))
    if form == "xlsx":
        file = BytesIO()
        write_xlsx(rows_out(kind, shop), title=kind, file=file)
        upload = keep_upload(shop=shop, kind=kind, name="a.xlsx", data=file.getvalue(),
                             by=storekeeper, at=timezone.now())  # fmt: skip
    counts = preview_of(upload).plan.counts
    assert counts[Fate.SAME] >= 7
    assert sum(counts.values()) == counts[Fate.SAME]


def test_a_book_can_be_written_anew_from_its_lists(
    lived_in, shop, bring, write, other_shop
) -> None:
    lists = {kind: list(rows_out(kind, shop)) for kind in KINDS}
    before = set(Balance.objects.filter(item__shop=shop, quantity__gt=0).values_list(
        "item__slug", "place__name", "condition", "length_um", "quantity"))  # fmt: skip
    corrected = {row[16] for row in lists["movements"] if row[1] == "correction"}
    kept = [row for row in lists["movements"] if row[16] not in corrected]
    # A correction is taken back by hand; what it took back stays out with it here.
    undone = {str(entry.corrects.client_key) for entry in Entry.objects.exclude(corrects=None)}
    kept = [row for row in kept if row[16] not in undone]
    for kind, rows in (("items", lists["items"]), ("movements", kept)):
        upload = bring(kind, rows, places=True)
        upload.shop = other_shop
        upload.save()
        assert write(upload).is_written
    after = set(Balance.objects.filter(item__shop=other_shop, quantity__gt=0).values_list(
        "item__slug", "place__name", "condition", "length_um", "quantity"))  # fmt: skip
    assert after == before
    assert not check(other_shop)


def test_movements_go_out_by_the_shops_own_days(stock, shop, clock) -> None:
    stock.bring(stock.rings, 1)
    clock.shift(24 * 3600)
    ledger.goods_in(shop=shop, item=stock.rings, quantity=Decimal(7), place=stock.rings.home,
                    source="x", is_donated=False, by=None, at=timezone.now())  # fmt: skip
    days = date(2026, 1, 15), date(2026, 1, 15)
    assert [row[5] for row in rows_out("movements", shop, *days)][1:] == [Decimal(7)]
    assert len(list(rows_out("movements", shop, None, date(2026, 1, 13)))) == 1


def test_the_files_to_fill_in_can_be_read_and_say_no_nonsense(shop, bring) -> None:
    for kind in KINDS:
        rows = template_rows(kind, shop)
        assert len(rows) == 2
        preview = preview_of(bring(kind, rows, places=True))
        assert preview.unknown == ()
        # Its item is not there; but nothing of it is misspelled.
        assert kind != "items" or preview.plan.fates[0].fate is Fate.NEW


def test_twice_as_many_rows_take_no_more_queries(stock, shop, django_assert_num_queries) -> None:
    for _ in range(2):
        for kind in KINDS:
            with django_assert_num_queries(1):
                list(rows_out(kind, shop))
        for _ in range(10):
            stock.bring(stock.rings, 1)


@st.composite
def balanced(draw: st.DrawFn) -> list[tuple[str, End, Decimal]]:
    """Lines that come to nothing for each thing."""
    ends = st.sampled_from(
        [End("shelf", name) for name in "ABC"] + [End(each) for each in ACCOUNTS]
    )
    lines = []
    for thing in draw(st.lists(st.sampled_from("xyz"), unique=True, min_size=1)):
        some = draw(st.lists(st.tuples(ends, st.integers(-50, 50).filter(bool)), min_size=1))
        lines += [(thing, end, Decimal(n)) for end, n in some]
        if left := -sum(n for _, n in some):
            lines.append((thing, draw(ends), Decimal(left)))
    return lines


@examples(50)
@given(balanced())
def test_any_balanced_entry_comes_apart_and_together_again(lines) -> None:
    again: dict = {}
    for thing, source, target, quantity in flows(lines):
        assert quantity > 0
        again[thing, source] = again.get((thing, source), 0) - quantity
        again[thing, target] = again.get((thing, target), 0) + quantity
    sums: dict = {}
    for thing, end, quantity in lines:
        sums[thing, end] = sums.get((thing, end), 0) + quantity
    assert {k: v for k, v in again.items() if v} == {k: v for k, v in sums.items() if v}
