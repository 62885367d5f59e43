"""The book of movements: stock, racks and finished sets agree to the piece."""

from __future__ import annotations

from decimal import Decimal

from django.db.models import Sum

from inventory.ledger.models import Balance, Condition, Entry, Line
from inventory.ledger.queries import check, on_hand
from inventory.materials.models import Item
from inventory.places.models import Shop
from tests.workshops.home.demo.conftest import TODAY
from workshops.nights.models import Tally
from workshops.season.queries import progress_of, winter_of


def made(demo: Shop, what: str) -> dict[str, int]:
    """Item -> how many this winter's tallies counted so."""
    rows = Tally.objects.filter(shop=demo).exclude(entry=None)
    found = rows.order_by().values_list("operation__recipe__output__slug").annotate(Sum(what))
    return dict(found)


def there(demo: Shop, slug: str) -> Decimal:
    return next(row.good for row in on_hand(demo) if row.item.slug == slug)


def test_every_balance_is_what_its_lines_add_up_to(demo: Shop) -> None:
    assert Balance.objects.filter(item__shop=demo).count() > 50
    assert check(demo) == ()


def test_a_balance_that_was_tampered_with_would_be_found(demo: Shop) -> None:
    balance = Balance.objects.filter(item__shop=demo, quantity__gt=0).first()
    assert balance
    kept = balance.quantity
    Balance.objects.filter(pk=balance.pk).update(quantity=kept + 1)
    assert [row.balance.pk for row in check(demo)] == [balance.pk]
    Balance.objects.filter(pk=balance.pk).update(quantity=kept)


def test_every_tally_of_this_winter_is_one_entry_of_its_night(demo: Shop) -> None:
    tallies = Tally.objects.filter(shop=demo).exclude(entry=None).select_related("entry", "night")
    assert tallies.count() == Entry.objects.filter(shop=demo, kind=Entry.Kind.MADE).count() > 100
    for tally in tallies:
        assert tally.entry
        assert tally.entry.night_key == tally.night.date.isoformat()


def test_no_tally_used_more_than_was_booked(demo: Shop) -> None:
    lines = Line.objects.filter(entry__shop=demo, entry__kind=Entry.Kind.MADE)
    assert not lines.filter(account=Line.Account.DIFFERENCE).exists()


def test_the_yard_holds_the_sets_that_were_tallied(demo: Shop) -> None:
    good = made(demo, "good")
    sets = Item.objects.filter(shop=demo, kind=Item.Kind.SET)
    assert len(sets) == 4
    for item in sets:
        assert there(demo, item.slug) == good[item.slug] > 0


def test_cylinders_add_up_from_the_wire_to_the_yard(demo: Shop) -> None:
    sets = sum(there(demo, slug) for slug in ("set-short", "set-long", "set-stand", "set-bolted"))
    filled = made(demo, "good")["cylinder-filled"]
    assert filled == sets + there(demo, "cylinder-filled")


def test_some_half_made_things_are_on_hold(demo: Shop) -> None:
    held = Balance.objects.filter(item__shop=demo, condition=Condition.HOLD, quantity__gt=0)
    held = held.filter(item__kind=Item.Kind.RACK)
    assert {row.item.slug for row in held} == {"head-welded", "stem", "cylinder-rolled"}


def test_drops_that_are_of_no_use_have_piled_up(demo: Shop) -> None:
    wire = next(row for row in on_hand(demo) if row.item.slug == "welded-wire")
    piece = wire.item.used_in.get().length_um
    short = [row for row in wire.lengths if row.length_um < piece]
    assert sum(row.good for row in short) >= 10


def test_rings_and_wire_are_short_of_what_the_winter_takes(demo: Shop) -> None:
    winter = winter_of(demo, TODAY)
    assert winter
    wanted = sum(kind.left for kind in progress_of(winter).kinds)
    rings = demo.item_set.get(slug="hog-ring").used_in.get().quantity
    assert there(demo, "hog-ring") < rings * wanted
    assert there(demo, "wire-piece") < wanted


def test_goods_came_bought_and_donated_with_their_value(demo: Shop) -> None:
    entries = Entry.objects.filter(shop=demo, kind=Entry.Kind.GOODS_IN)
    assert entries.filter(goods_in__is_donated=True).count() == 4
    assert not entries.filter(goods_in__value=None).exists()


def test_a_stocktake_in_mid_winter_explains_its_difference(demo: Shop) -> None:
    counted = Entry.objects.filter(shop=demo, kind=Entry.Kind.COUNTED).latest("at")
    line = counted.lines.get(account=Line.Account.SHELF, item__slug="hog-ring")
    assert -80 <= line.quantity < 0
    assert "split" in counted.reason


def test_everything_was_written_in_the_order_in_which_it_happened(demo: Shop) -> None:
    happened = Entry.objects.filter(shop=demo).order_by("pk").values_list("at", flat=True)
    assert list(happened) == sorted(happened)
