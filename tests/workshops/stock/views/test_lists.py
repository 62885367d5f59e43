"""Lists in and out, as pages: what each person may, what a file's owner alone sees."""

from __future__ import annotations

from io import BytesIO
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.utils import timezone

from inventory.ledger.models import Entry
from inventory.ledger.queries import balance_of
from inventory.places.models import Place
from workshops.common.models import Upload
from workshops.common.sheets import read_sheet, write_csv
from workshops.common.uploads import WAITS, keep_upload
from workshops.stock.views import lists

HEAD = ["Place", "Item", "On hand"]


def file(*rows: list[Any], name: str = "count.csv") -> SimpleUploadedFile:
    return SimpleUploadedFile(name, write_csv(rows))


def bring(client: Any, at: Any, *rows: list[Any], kind: str = "stock") -> str:
    """The address of the fates."""
    answer = client.post(at("bring_list"), {"kind": kind, "file": file(*rows)})
    assert answer.status_code == 302, answer.content.decode()
    return answer["Location"]


def seen_on(page: str) -> str:
    return page.partition('name="seen" value="')[2].partition('"')[0]


def test_the_fates_are_shown_with_words_and_shapes_before_anything_is_written(
    stock, keeper, at
) -> None:
    fates = bring(keeper, at, HEAD, ["Shelf", "Rings", 5], ["Attic", "Rings", 1])
    page = keeper.get(fates).content.decode()
    for words in ("◆</span>differs", "✕</span>cannot be", "2 more than the book",
                  "no place called Attic", "Nothing of it can be written while 1 row"):  # fmt: skip
        assert words in page
    assert balance_of(stock.rings) == 3
    assert Entry.objects.filter(kind=Entry.Kind.COUNTED).count() == 0


def test_the_rows_of_one_fate_are_shown_alone(stock, keeper, at) -> None:
    fates = bring(keeper, at, HEAD, ["Shelf", "Rings", 5], ["Shelf", "Straw", 1])
    page = keeper.get(f"{fates}?fate=same").content.decode()
    assert "Straw, at Shelf" in page
    assert "Rings, at Shelf" not in page
    assert "Rings, at Shelf" in keeper.get(f"{fates}?fate=moon").content.decode()


def test_one_button_writes_all_of_it(stock, keeper, at) -> None:
    fates = bring(keeper, at, HEAD, ["Shelf", "Rings", 5])
    seen = seen_on(keeper.get(fates).content.decode())
    page = keeper.post(f"{fates}write/", {"seen": seen}, follow=True).content.decode()
    assert "Written: count.csv. 1 × differs." in page
    assert balance_of(stock.rings) == 5
    assert keeper.post(f"{fates}write/", {"seen": seen}).status_code == 404


def test_a_stale_look_shows_the_new_fates_and_writes_nothing(stock, keeper, at) -> None:
    fates = bring(keeper, at, HEAD, ["Shelf", "Rings", 5])
    seen = seen_on(keeper.get(fates).content.decode())
    stock.bring(stock.rings, 1)
    answer = keeper.post(f"{fates}write/", {"seen": seen})
    page = answer.content.decode()
    assert answer.status_code == 409
    assert "Nothing was written" in page
    assert "1 more than the book" in page
    assert balance_of(stock.rings) == 4
    keeper.post(f"{fates}write/", {"seen": seen_on(page)})
    assert balance_of(stock.rings) == 5


def test_places_are_added_only_with_the_list(stock, keeper, at) -> None:
    fates = bring(keeper, at, HEAD, ["Attic", "Rings", 1])
    page = keeper.post(f"{fates}places/", follow=True).content.decode()
    assert "Adds the place Attic." in page
    assert not Place.objects.filter(name="Attic").exists()
    keeper.post(f"{fates}write/", {"seen": seen_on(page)})
    assert Place.objects.get(name="Attic").balances.get().quantity == 1


def test_what_is_thrown_away_is_gone_and_nothing_was_written(stock, keeper, at) -> None:
    fates = bring(keeper, at, HEAD, ["Shelf", "Rings", 5])
    assert "nothing of it was written" in keeper.post(
        f"{fates}throw-away/", follow=True
    ).content.decode()  # fmt: skip
    assert keeper.get(fates).status_code == 404
    assert balance_of(stock.rings) == 3


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "empty"),
        (b"PK nothing", "is damaged"),
        (b"Place,Item\nShelf,Rings\n", "misses: On hand"),
        (b"Place,Item,On hand\n", "nothing under it"),
    ],
)
def test_a_file_that_is_no_list_is_refused_at_once(stock, keeper, at, content, says) -> None:
    sent = {"kind": "stock", "file": SimpleUploadedFile("a.csv", content)}
    answer = keeper.post(at("bring_list"), sent)
    assert answer.status_code == 422
    assert says in answer.content.decode()
    assert not Upload.objects.exists()


def test_only_who_brought_a_file_finds_it(stock, keeper, coordinator, stranger, client_of, at
                                          ) -> None:  # fmt: skip
    fates = bring(keeper, at, HEAD, ["Shelf", "Rings", 5])
    for other in (coordinator, stranger):
        client = client_of(other)
        assert client.get(fates).status_code == 404
        assert client.post(f"{fates}write/", {"seen": "x"}).status_code == 404
        assert client.post(f"{fates}throw-away/").status_code == 404
    assert "count.csv" not in client_of(coordinator).get(at("lists")).content.decode()
    assert "count.csv" in keeper.get(at("lists")).content.decode()


def test_another_shops_upload_is_not_found_by_its_owner_in_this_shop(
    stock, keeper, storekeeper, other_shop, at
) -> None:
    upload = keep_upload(shop=other_shop, kind="stock", name="a", data=b"a", by=storekeeper,
                         at=timezone.now())  # fmt: skip
    assert keeper.get(at("list", upload.pk)).status_code == 404


def test_a_duty_lead_brings_counts_but_no_items(stock, duty_lead, client_of, at) -> None:
    lead = client_of(duty_lead)
    assert "items: what is counted" not in lead.get(at("lists")).content.decode()
    sent = {"kind": "items", "file": file(["Name"], ["Tube"])}
    assert lead.post(at("bring_list"), sent).status_code == 422
    assert lead.get(bring(lead, at, HEAD, ["Shelf", "Rings", 5])).status_code == 200


def test_who_may_no_longer_keep_items_may_not_write_their_list(stock, keeper, storekeeper, at
                                                               ) -> None:  # fmt: skip
    fates = bring(keeper, at, ["Name", "Supplier"], ["Tube", "Hill Farm"], kind="items")
    storekeeper.memberships.update(role="duty_lead")
    assert keeper.get(fates).status_code == 403
    assert keeper.post(f"{fates}write/", {"seen": "x"}).status_code == 403


def test_a_reader_takes_lists_out_and_brings_none_in(stock, reader, client_of, at) -> None:
    client = client_of(reader)
    page = client.get(at("lists")).content.decode()
    assert "Take a list out" in page
    assert "Bring a list in" not in page
    assert client.post(at("bring_list")).status_code == 403


@pytest.mark.parametrize("kind", ["items", "stock", "movements"])
def test_every_list_goes_out_as_csv_and_as_a_workbook(stock, keeper, at, kind) -> None:
    plain = keeper.get(at("export_list", kind, "csv"))
    book = keeper.get(at("export_list", kind, "xlsx"))
    assert f'filename="teal-point-{kind}-2026-01-14.csv"' in plain["Content-Disposition"]
    # A workbook writes a price of 4.50 as 4.5, which is read as the same.
    told, same = (
        [row.cells[:20] for row in read_sheet(b"".join(answer.streaming_content))]
        for answer in (plain, book)
    )
    assert told == same
    assert len(told) >= 4


def test_templates_lead_to_every_heading_and_unknown_lists_nowhere(stock, keeper, at) -> None:
    answer = keeper.get(at("list_template", "stock", "xlsx"))
    assert "On hand" in read_sheet(b"".join(answer.streaming_content))[0].cells
    assert keeper.get(at("export_list", "moon", "csv")).status_code == 404
    assert keeper.get(at("list_template", "stock", "pdf")).status_code == 404


def test_movements_of_some_days_alone(stock, keeper, at) -> None:
    address = at("export_list", "movements", "csv")
    answer = keeper.get(address, {"first": "2026-02-01"})
    assert len(read_sheet(b"".join(answer.streaming_content))) == 1
    answer = keeper.get(address, {"first": "", "last": "2026-01-14"})
    assert len(read_sheet(b"".join(answer.streaming_content))) == 4


def test_a_file_that_waited_too_long_goes_when_the_next_comes(stock, keeper, at, clock) -> None:
    bring(keeper, at, HEAD, ["Shelf", "Rings", 5])
    clock.shift(WAITS.total_seconds() + 1)
    bring(keeper, at, HEAD, ["Shelf", "Rings", 6])
    assert "count.csv" in keeper.get(at("lists")).content.decode()
    assert Upload.objects.count() == 1


def test_a_long_list_is_leafed_through(stock, keeper, at, monkeypatch) -> None:
    monkeypatch.setattr(lists, "LEAF", 2)
    fates = bring(keeper, at, HEAD, *(["Shelf", "Rings", n] for n in range(5)))
    assert "leaf 1 of 3" in keeper.get(fates).content.decode()
    assert "leaf 3 of 3" in keeper.get(f"{fates}?page=9").content.decode()


def test_looking_takes_as_many_queries_for_twice_the_rows(
    stock, keeper, at, django_assert_num_queries
) -> None:
    for count in (10, 20):
        fates = bring(keeper, at, HEAD, *(["Shelf", "Rings", n] for n in range(count)))
        keeper.get(fates)
        with django_assert_num_queries(7):
            keeper.get(fates)


def test_a_workbook_is_brought_like_a_csv(stock, keeper, at) -> None:
    book = keeper.get(at("export_list", "stock", "xlsx"))
    content = BytesIO(b"".join(book.streaming_content))
    content.name = "stock.xlsx"
    answer = keeper.post(at("bring_list"), {"kind": "stock", "file": content}, follow=True)
    assert "Everything in it is there already" in answer.content.decode()
