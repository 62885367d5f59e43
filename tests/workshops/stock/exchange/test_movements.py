"""The list of movements: written once, in its order, and told again as in the book."""

from __future__ import annotations

from decimal import Decimal

import pytest

from inventory.ledger.models import Condition, Entry
from inventory.ledger.queries import balance_of, check, pieces_of
from inventory.measures.lengths import feet
from tests.workshops.stock.exchange.conftest import only, told

HEAD = ["When", "Kind", "Item", "Length", "Quantity", "From", "To", "Why", "Who", "Night",
        "From whom", "Mark"]  # fmt: skip


def row(kind: str, item: str, quantity: object, **more: object) -> list[object]:
    values = {"When": "2026-01-10", "Kind": kind, "Item": item, "Quantity": quantity} | more
    return [values.get(name, "") for name in HEAD]


CAME = row("goods in", "Rings", 5, To="Shelf", **{"From whom": "Reed & Sons"})
USED = row("used", "Rings", "2.5", From="Shelf", Why="ringing", Who="Greta", Night="2026-01-09")
BENT = row("scrap", "Tube", 1, Length="20 ft", From="Yard", Why="bent")


def test_each_kind_is_posted_with_when_why_night_and_paper(bring, write, stock, shop,
                                                           storekeeper) -> None:  # fmt: skip
    assert write(bring("movements", [HEAD, CAME, USED, BENT])).is_written
    used = Entry.objects.get(kind=Entry.Kind.USED)
    assert f"{used.at.astimezone(shop.zone):%Y-%m-%d %H:%M}" == "2026-01-10 12:00"
    assert (used.reason, used.night_key) == ("ringing (Greta)", "2026-01-09")
    assert (used.paper, used.by) == ("movements.csv, row 3", storekeeper)
    assert balance_of(stock.rings) == Decimal("5.5")
    assert pieces_of(stock.tube) == [(feet(20), 1)]
    assert not check(shop)


def test_goods_in_keep_their_source(bring, write, stock) -> None:
    write(bring("movements", [HEAD, CAME]))
    assert Entry.objects.order_by("-pk")[0].goods_in.source == "Reed & Sons"


def test_the_same_file_twice_doubles_nothing_and_links_to_the_entries(bring, write, look, stock
                                                                      ) -> None:  # fmt: skip
    rows = [HEAD, CAME, USED, BENT]
    write(bring("movements", rows))
    preview = look("movements", rows)
    assert told(preview) == [(2, "same"), (3, "same"), (4, "same")]
    assert preview.plan.fates[1].entry == Entry.objects.get(kind=Entry.Kind.USED).pk
    assert not preview.plan.can_be_written


def test_a_file_that_grew_writes_only_its_new_rows(bring, write, look, stock) -> None:
    write(bring("movements", [HEAD, CAME, USED]))
    grown = [HEAD, BENT, CAME, USED, USED]
    assert told(look("movements", grown)) == [(2, "new"), (3, "same"), (4, "same"), (5, "new")]
    assert write(bring("movements", grown)).is_written
    assert Entry.objects.filter(kind=Entry.Kind.USED).count() == 2


def test_a_mark_keeps_alike_rows_apart_and_joins_rows_of_one_entry(bring, write, look, stock
                                                                   ) -> None:  # fmt: skip
    marked = [row("used", "Rings", 1, From="Shelf", Mark=mark) for mark in ("12", "13")]
    made = [row("made", "Cylinder", 4, To="Rack", Mark="14"),
            row("made", "Straw", "1", From="Shelf", Mark="14")]  # fmt: skip
    assert write(bring("movements", [HEAD, *marked, *made])).is_written
    assert Entry.objects.get(kind=Entry.Kind.MADE).lines.count() == 4
    assert balance_of(stock.cylinder) == 4
    assert told(look("movements", [HEAD, marked[0]])) == [(2, "same")]


def test_a_mark_of_the_book_with_other_lines_is_refused(bring, write, look, stock) -> None:
    write(bring("movements", [HEAD, row("used", "Rings", 1, From="Shelf", Mark="12")]))
    fate = only(look("movements", [HEAD, row("used", "Rings", 2, From="Shelf", Mark="12")]))
    assert fate.fate == "refused"
    assert "Entries are never changed" in fate.says


def test_rows_are_weighed_from_top_to_bottom(look, stock) -> None:
    taken = row("used", "Rings", 8, From="Shelf")
    assert told(look("movements", [HEAD, CAME, taken])) == [(2, "new"), (3, "new")]
    preview = look("movements", [HEAD, taken, CAME])
    assert told(preview) == [(2, "refused"), (3, "new")]
    assert "3 lie there, 8 are taken." in preview.plan.fates[0].says


def test_hold_release_and_a_place_on_hold(bring, write, stock) -> None:
    held = row("put on hold", "Rings", 2, From="Shelf", Why="rusty")
    back = row("released from hold", "Rings", 1, From="Shelf")
    away = row("moved", "Rings", 1, From="Shelf (on hold)", To="Rack (on hold)")
    assert write(bring("movements", [HEAD, held, back, away])).is_written
    lying = {(b.place.name, b.condition): b.quantity for b in stock.rings.balances.all()}
    assert lying["Shelf", Condition.GOOD] == 2
    assert lying["Rack", Condition.HOLD] == 1


def test_a_bin_called_scrap_is_a_place_and_brackets_are_the_account(bring, write, stock, shop
                                                                    ) -> None:  # fmt: skip
    shop.place_set.create(name="Scrap")
    into_bin = row("moved", "Rings", 1, From="Shelf", To="scrap")
    gone = row("scrap", "Rings", 1, From="Scrap", To="(scrap)", Why="rusty")
    assert write(bring("movements", [HEAD, into_bin, gone])).is_written
    assert balance_of(stock.rings) == 2


@pytest.mark.parametrize(
    ("given", "says"),
    [
        (row("used", "Rings", 0, From="Shelf"), "write how many moved"),
        (row("used", "Rings", 1, From="Attic"), "There is no place “Attic”"),
        (row("used", "Rings", 1), "It comes from where it goes to"),
        (row("moved", "Rings", 1, From="Shelf"), "To: fill in the place"),
        (row("moved", "Rings", 1, From="Shelf", To="shelf"), "comes from where it goes to"),
        (row("scrap", "Rings", 1, From="Shelf"), "Why: fill it in"),
        (row("scrap", "Rings", 1, From="Shelf", To="Rack", Why="x"), "One end must be (scrap)"),
        (row("goods in", "Rings", 1, To="Shelf"), "From whom: say who"),
        (row("correction", "Rings", 1, From="Shelf", To="Rack"), "take the entry back"),
        (row("used", "Rings", 1, From="(moon)"), "is none of: (outside)"),
        (row("lost", "Rings", 1, From="Shelf"), "Kind: “lost” is none of"),
        (row("used", "Rings", 1, From="Shelf", When="2026-01-15"), "has not come yet"),
    ],
)
def test_a_row_that_cannot_be_says_why(look, stock, given, says) -> None:
    fate = only(look("movements", [HEAD, given]))
    assert fate.fate == "refused"
    assert says in fate.says


def test_rows_of_one_mark_must_be_of_one_kind_and_time(look, stock) -> None:
    rows = [HEAD, row("used", "Rings", 1, From="Shelf", Mark="1"),
            row("scrap", "Rings", 1, From="Shelf", Why="x", Mark="1")]  # fmt: skip
    preview = look("movements", rows)
    assert told(preview) == [(2, "refused"), (3, "refused")]
    assert "Rows 2, 3 have one mark" in preview.plan.fates[0].says
