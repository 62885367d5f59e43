"""A book of many winters, written straight into the tables: posting it would take long.

Entries go round the items: goods in, heads made from one busy box of bolts, things
carried, counts that found one fewer. The balances are summed in the end.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from decimal import Decimal
from itertools import islice
from uuid import uuid4

from django.core.management.color import no_style
from django.db import connection, transaction
from django.utils import timezone

from inventory.ledger.models import Entry, Line
from inventory.ledger.statements import Row, Statements
from inventory.materials.models import Item
from inventory.places.models import Place, Shop
from tests.factories import make_item, make_shop

PLACES = 40
PART = 2_000  # rows to a batch
SHELF, OUTSIDE = Line.Account.SHELF, Line.Account.OUTSIDE
USED, MADE = Line.Account.USED, Line.Account.MADE
KINDS = (Entry.Kind.GOODS_IN, Entry.Kind.MADE, Entry.Kind.MOVED, Entry.Kind.COUNTED)
LINES_A_ROUND = 10  # of the four kinds together

SUM_BALANCES = """
INSERT INTO ledger_balance (item_id, place_id, condition, length_um, quantity)
SELECT item_id, place_id, condition, length_um, SUM(quantity) FROM ledger_line
WHERE account = 'shelf' GROUP BY item_id, place_id, condition, length_um
"""


def write_long_book(*, lines: int, items: int) -> Shop:
    """A shop with that many items and, give or take a round, lines."""
    shop = make_shop()
    Place.objects.bulk_create(Place(shop=shop, name=f"Bay {n:02}") for n in range(PLACES))
    places = list(Place.objects.filter(shop=shop))
    bolts = make_item(shop, name="Bolts", kind=Item.Kind.SMALL, home=places[0])
    kinds = [Item.Kind.SMALL, Item.Kind.FILL, Item.Kind.RACK, Item.Kind.SET]
    Item.objects.bulk_create(
        Item(shop=shop, slug=f"thing-{n}", name=f"Thing {n:04}", kind=kinds[n % 4],
             home=places[n % PLACES], keep_at_least=n % 50 // 49)
        for n in range(items - 1)
    )  # fmt: skip
    things = list(Item.objects.filter(shop=shop).exclude(pk=bolts.pk))
    with transaction.atomic():
        _fill(_Rounds(shop, bolts, things, places), lines // LINES_A_ROUND)
        with connection.cursor() as cursor:
            cursor.execute(SUM_BALANCES)
            for statement in connection.ops.sequence_reset_sql(no_style(), [Entry, Line]):
                cursor.execute(statement)
    # What the database would find out by itself in a shop that is used.
    with connection.cursor() as cursor:
        cursor.execute("ANALYZE")
    return shop


class _Rounds:
    """First the bolts for all of it; then four entries a round, one thing a round."""

    def __init__(self, shop: Shop, bolts: Item, things: list[Item], places: list[Place]) -> None:
        self.shop, self.bolts, self.things, self.places = shop, bolts, things, places
        self.began = timezone.now() - timedelta(days=3_000)

    def entries(self, rounds: int) -> Iterator[Entry]:
        for number in range(4 * rounds + 1):
            at = self.began + timedelta(minutes=10 * number)
            kind = KINDS[(number - 1) % 4] if number else Entry.Kind.GOODS_IN
            yield Entry(
                pk=number + 1, shop=self.shop, kind=str(kind), at=at, recorded_at=at,
                reason="one fewer" if kind == Entry.Kind.COUNTED else "", client_key=uuid4(),
            )  # fmt: skip

    def lines(self, rounds: int) -> Iterator[Row]:
        bolts, box = self.bolts.pk, self.places[0].pk
        yield _line(1, bolts, SHELF, box, 2 * rounds + 500)
        yield _line(1, bolts, OUTSIDE, None, -2 * rounds - 500)
        for number in range(rounds):
            turn, first = number % len(self.things), 4 * number + 2
            thing = self.things[turn].pk
            home = self.places[turn % PLACES].pk
            away = self.places[(turn + 1) % PLACES].pk
            yield from (
                _line(first, thing, SHELF, home, 10), _line(first, thing, OUTSIDE, None, -10),
                _line(first + 1, bolts, SHELF, box, -2), _line(first + 1, bolts, USED, None, 2),
                _line(first + 1, thing, SHELF, home, 1), _line(first + 1, thing, MADE, None, -1),
                _line(first + 2, thing, SHELF, home, -3), _line(first + 2, thing, SHELF, away, 3),
                _line(first + 3, thing, SHELF, home, -1),
                _line(first + 3, thing, Line.Account.DIFFERENCE, None, 1),
            )  # fmt: skip


def _line(entry: int, item: int, account: str, place: int | None, quantity: int) -> Row:
    return (entry, item, str(account), place, "good", 0, Decimal(quantity))


def _fill(book: _Rounds, rounds: int) -> None:
    entries, lines = book.entries(rounds), book.lines(rounds)
    while part := list(islice(entries, PART)):
        Entry.objects.bulk_create(part)
    with Statements() as statements:
        while rows := list(islice(lines, PART)):
            statements.write_lines(rows)
