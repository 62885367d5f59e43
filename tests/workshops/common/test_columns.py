"""Columns of a list: found by their words, read by their readers, wrong in plain words."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest

from inventory.measures.lengths import Units, feet, inches
from workshops.common import columns
from workshops.common.columns import Column, read_rows
from workshops.common.sheets import Row, SheetRefused

ZONE = ZoneInfo("America/Chicago")
NAME = Column("name", "Name", columns.words(10), ("item",), is_required=True)
COUNT = Column("count", "On hand", columns.amount, ("quantity", "how many"))


def rows(*cells: tuple[str, ...]) -> list[Row]:
    return [Row(number, row) for number, row in enumerate(cells, start=1)]


def test_columns_are_found_by_any_of_their_words_in_any_order() -> None:
    reading = read_rows(rows(("HOW  many?", "Colour", "item"), ("3", "red", "Tube")), [NAME, COUNT])
    assert reading.rows[0].values == {"name": "Tube", "count": Decimal(3)}
    assert reading.unknown == ("Colour",)


def test_an_empty_cell_is_none_and_a_missing_column_is_no_key() -> None:
    assert read_rows(rows(("Name", "On hand"), ("Tube",)), [NAME, COUNT]).rows[0].values == {
        "name": "Tube", "count": None
    }  # fmt: skip
    assert "count" not in read_rows(rows(("Name",), ("Tube",)), [NAME, COUNT]).rows[0].values


def test_everything_wrong_with_a_row_is_told_with_its_number() -> None:
    row = read_rows(rows(("Name", "On hand"), ("", "many")), [NAME, COUNT]).rows[0]
    assert row.number == 2
    assert row.faults == (
        "Name: fill it in.", "On hand: “many” is not a number. Write it like 12 or 0.25."
    )  # fmt: skip


@pytest.mark.parametrize(
    ("table", "says"),
    [
        ([], "is empty"),
        ([("Name",)], "nothing under it"),
        ([("On hand",), ("3",)], "Row 1 must be the heading row, and misses: Name"),
        ([("Name", "Item"), ("a", "b")], "“Item” stands twice"),
    ],
)
def test_a_list_without_its_headings_is_refused(table: list, says: str) -> None:
    with pytest.raises(SheetRefused, match=says):
        read_rows(rows(*table), [NAME, COUNT])


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("12", "12"), ("0.25", "0.25"), ("0,25", "0.25"), ("-3", "-3"), ("1,234,567", "1234567"),
        ("1,234.5", "1234.5"), ("12 000", "12000"), ("−4", "-4"),
    ],
)  # fmt: skip
def test_numbers_are_read_exactly(text: str, number: str) -> None:
    assert columns.amount(text) == Decimal(number)


@pytest.mark.parametrize(
    "text", ["1,234", "many", "1.2345", "1e3", "NaN", "9999999999", "--3", "½"]
)
def test_what_is_no_exact_number_is_refused(text: str) -> None:
    with pytest.raises(ValueError):
        columns.amount(text)


def test_money_whole_numbers_and_words_keep_their_bounds() -> None:
    assert (columns.money("48.50"), columns.whole("12")) == (Decimal("48.50"), 12)
    for read, text in ((columns.money, "-1"), (columns.money, "1.005"), (columns.whole, "1.5"),
                       (columns.whole, "-1"), (columns.words(3), "four")):  # fmt: skip
        with pytest.raises(ValueError):
            read(text)


def test_lengths_are_read_in_the_shops_units() -> None:
    assert columns.length(Units.INCH)("8 ft 6 in") == feet(8) + inches(6)
    assert columns.length(Units.INCH)("34") == inches(34)
    assert columns.length(Units.MILLIMETRE)("34") == 34_000


def test_days_are_iso_or_as_the_shop_writes_them() -> None:
    american, other = columns.day(month_first=True), columns.day(month_first=False)
    assert american("2026-01-14") == american("1/14/2026") == date(2026, 1, 14)
    assert other("14.1.2026") == other("14/01/2026") == date(2026, 1, 14)
    with pytest.raises(ValueError, match="Write 2026-01-14 or 1/14/2026"):
        american("14/1/2026")
    with pytest.raises(ValueError, match="is not a day"):
        other("yesterday")


def test_a_moment_without_a_time_is_noon_on_the_shops_clock() -> None:
    read = columns.moment(ZONE, month_first=True)
    assert read("2026-01-14") == datetime(2026, 1, 14, 12, tzinfo=ZONE)
    assert read("1/14/2026 18:30") == datetime(2026, 1, 14, 18, 30, tzinfo=ZONE)
    assert read("2026-01-14T18:30:00+01:00").utcoffset().total_seconds() == 3600
    for text in ("2026-01-14 25:00", "2026-01-14 6 pm", "2026-13-01"):
        with pytest.raises(ValueError):
            read(text)


def test_a_choice_is_read_by_any_of_its_words_and_yes_by_several() -> None:
    read = columns.choice({"hold": ("on hold", "held"), "good": ("good",)})
    assert [read(text) for text in ("On Hold", "held", "hold", "good")] == ["hold"] * 3 + ["good"]
    with pytest.raises(ValueError, match="none of: on hold, good"):
        read("lost")
    assert [columns.yes_no(text) for text in ("Yes", "x", "no")] == [True, True, False]
    with pytest.raises(ValueError, match="write yes or no"):
        columns.yes_no("maybe")
