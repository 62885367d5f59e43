"""A shop's first winter in the book: its lists come in, are mended, go out, and get labels."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from inventory.ledger.models import Entry
from inventory.ledger.queries import balance_of, check, pieces_of
from inventory.materials.models import Item
from inventory.measures.lengths import feet
from tests.workshops.paper.reading import pages_of
from workshops.common.sheets import read_sheet
from workshops.paper.models import Paper

pytestmark = pytest.mark.django_db

STOCK = "/teal-point/stock"
# As a German spreadsheet writes it: semicolons, Windows letters.
ITEMS = (
    "Name;Kind;Section;Kept at;Counted in;Price\r\n"
    "Röhre;metal;square tube;Tube rack;each;31,50\r\n"
    "Hog rings;small;;Drawers;box;4.20\r\n"
).encode("cp1252")
OPENING = b"Place,Item,Length,On hand\nTube rack,R\xc3\xb6hre,20 ft,12\nDrawers,Hog rings,,3\n"
MOVES = b"""When,Kind,Item,Length,Quantity,From,To,Why,Who
2026-01-12,used,Hog rings,,1,Drawers,,first cylinders,Greta
2026-01-13 19:30,scrap,R\xc3\xb6hre,20 ft,1,Tube rack,,bent by the truck,
2026-01-13,moved,Hog rings,,9,Drawers,Tube rack,,
"""


class Desk:
    """The storekeeper's browser: brings lists, presses buttons, reads pages."""

    def __init__(self, client: Client) -> None:
        self.client, self.fates = client, ""

    def bring(self, kind: str, content: bytes) -> str:
        sent = {"kind": kind, "file": SimpleUploadedFile(f"{kind}.csv", content)}
        answer = self.client.post(f"{STOCK}/lists/bring/", sent)
        self.fates = answer["Location"]
        return self.look(self.fates)

    def look(self, page: str) -> str:
        return self.client.get(page).content.decode()

    def press(self, button: str, **given: Any) -> str:
        return self.client.post(f"{self.fates}{button}/", given, follow=True).content.decode()

    def write(self) -> str:
        seen = self.look(self.fates).partition('name="seen" value="')[2].partition('"')[0]
        return self.press("write", seen=seen)

    def take_out(self, kind: str) -> bytes:
        answer = self.client.get(f"{STOCK}/lists/{kind}/csv/")
        return b"".join(answer.streaming_content)


@pytest.fixture
def desk(storekeeper, client_of, clock) -> Desk:
    return Desk(client_of(storekeeper))


def items_come_in_with_their_places(desk: Desk) -> None:
    page = desk.bring("items", ITEMS)
    assert "no place called Tube rack, Drawers" in page
    assert not Item.objects.exists()
    assert "Adds the places Tube rack, Drawers" in desk.press("places")
    assert "2 × new item" in desk.write()
    assert Item.objects.get(name="Röhre").unit_price == Decimal("31.50")


def the_opening_stock_comes_in(desk: Desk) -> None:
    page = desk.bring("stock-opening", OPENING)
    assert "12 come in as opening stock." in page
    assert "2 × comes in" in desk.write()
    assert pieces_of(Item.objects.get(name="Röhre")) == [(feet(20), 12)]


def a_wrong_row_keeps_all_of_them_out_until_it_is_mended(desk: Desk) -> None:
    page = desk.bring("movements", MOVES)
    assert "2 lie there, 9 are taken." in page
    assert "Nothing of it can be written while 1 row cannot be" in page
    assert "Write all of it" not in page
    assert Entry.objects.exclude(kind=Entry.Kind.GOODS_IN).count() == 0
    desk.press("throw-away")
    desk.bring("movements", MOVES.replace(b",9,", b",2,"))
    assert "3 × will be written" in desk.write()


def the_same_file_again_is_already_in_the_book(desk: Desk) -> None:
    page = desk.bring("movements", MOVES.replace(b",9,", b",2,"))
    assert page.count(">entry ") == 3  # each row leads to its entry
    assert "there is nothing to write" in page
    assert balance_of(Item.objects.get(name="Hog rings")) == 2


def everything_goes_out_and_is_there_when_it_comes_in(desk: Desk) -> None:
    for kind in ("items", "stock", "movements"):
        out = desk.take_out(kind)
        assert len(read_sheet(out)) >= 3
        assert "Everything in it is there already" in desk.bring(kind, out)
        desk.press("throw-away")


def the_rack_gets_its_labels(desk: Desk, shop: Any, commits: Any) -> None:
    place = shop.place_set.get(name="Tube rack")
    sent = {"what": "place", "place": place.pk, "size": "bin", "start": 1}
    with commits(execute=True):
        desk.client.post("/teal-point/paper/labels/", sent)
    page = pages_of(Paper.objects.get().file.read())[0]
    assert "Tuberack" in page
    assert "Röhre" in page
    assert "Röhre" in desk.look(f"{STOCK}/places/{place.pk}/")


def test_lists_come_in_go_out_and_get_labels(
    shop, desk: Desk, django_capture_on_commit_callbacks
) -> None:
    items_come_in_with_their_places(desk)
    the_opening_stock_comes_in(desk)
    a_wrong_row_keeps_all_of_them_out_until_it_is_mended(desk)
    the_same_file_again_is_already_in_the_book(desk)
    everything_goes_out_and_is_there_when_it_comes_in(desk)
    the_rack_gets_its_labels(desk, shop, django_capture_on_commit_callbacks)
    assert not check(shop)
