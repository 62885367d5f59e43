"""Tables from files and into files: every text comes back, and nothing is worked out."""

from __future__ import annotations

import csv
from datetime import date, datetime
from decimal import Decimal
from io import BytesIO, StringIO
from zipfile import ZIP_DEFLATED, ZipFile

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import Workbook, load_workbook

from tests.examples import examples
from workshops.common.sheets import (
    COLUMNS_MOST,
    ROWS_MOST,
    UNPACKED_MOST,
    Row,
    SheetRefused,
    guarded,
    read_sheet,
    unguarded,
    write_csv,
    write_xlsx,
)

# What a cell can hold: no control signs but the line end and the tab, and no half letters.
TEXT = st.text(st.characters(exclude_categories=["Cc", "Cs", "Cn"], include_characters="\n\t"))
TRICKY = st.sampled_from(
    ["=1+1", "+4", "-5", "-5a", "@now", "'=x", "''-", "a;b", 'say "so"', "\tx", "007", "1e5", ""]
)
TABLES = st.lists(st.lists(TEXT | TRICKY, max_size=6), min_size=1, max_size=8).filter(
    lambda table: any(cell.strip() for row in table for cell in row)
)


def as_xlsx(rows: list[list]) -> bytes:
    file = BytesIO()
    write_xlsx(rows, title="List", file=file)
    return file.getvalue()


def as_rows(table: list[list[str]]) -> list[Row]:
    """What reading a table must give: cells at the ends and rows without any left out."""
    found = []
    for number, cells in enumerate(table, start=1):
        kept = list(cells)
        while kept and not kept[-1].strip():
            kept.pop()
        if kept:
            found.append(Row(number, tuple(kept)))
    return found


@examples(40)
@given(TABLES)
def test_any_table_of_text_comes_back_from_csv(table: list[list[str]]) -> None:
    assert read_sheet(write_csv(table)) == as_rows(table)


@examples(60)
@given(TABLES)
def test_any_table_of_text_comes_back_from_a_workbook(table: list[list[str]]) -> None:
    assert read_sheet(as_xlsx(table)) == as_rows(table)


@examples(40)
@given(TEXT | TRICKY)
def test_no_text_that_is_written_begins_like_a_formula(text: str) -> None:
    written = guarded(text)
    assert unguarded(written) == text
    if written[:1] in tuple("=+-@\t"):
        assert Decimal(written) < 0


def test_formulas_become_text_and_negative_numbers_stay_numbers() -> None:
    lines = write_csv([["=1+1", "-5", Decimal("-2.50"), "@x", "-5a"]]).decode("utf-8-sig")
    assert next(csv.reader(StringIO(lines))) == ["'=1+1", "-5", "-2.50", "'@x", "'-5a"]
    sheet = load_workbook(BytesIO(as_xlsx([["=1+1", Decimal("-2.50")]]))).active
    assert [(cell.data_type, cell.value) for cell in sheet[1]] == [("s", "'=1+1"), ("n", -2.5)]


@pytest.mark.parametrize("sign", [",", ";", "\t"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
def test_every_separator_and_encoding_is_read(sign: str, encoding: str) -> None:
    text = f'Name{sign}Länge{sign}Why\r\nRöhre{sign}1½{sign}"a{sign}b"\r\n'
    assert read_sheet(text.encode(encoding)) == [
        Row(1, ("Name", "Länge", "Why")), Row(2, ("Röhre", "1½", f"a{sign}b"))
    ]  # fmt: skip


def test_inch_marks_and_commas_in_one_cell_do_not_hide_the_separator() -> None:
    text = 'Tube 2" x 2";"a, b, c";Length\n4" pipe;x;8\n'
    assert read_sheet(text.encode())[0].cells == ('Tube 2" x 2"', "a, b, c", "Length")
    assert read_sheet(text.encode())[1].cells == ('4" pipe', "x", "8")


def test_row_numbers_are_those_a_spreadsheet_shows() -> None:
    assert [row.number for row in read_sheet(b"a\n\n\nb\n")] == [1, 4]
    book = Workbook()
    book.active["A1"], book.active["B5"] = "a", "b"
    file = BytesIO()
    book.save(file)
    assert read_sheet(file.getvalue()) == [Row(1, ("a",)), Row(5, ("", "b"))]


def test_a_workbooks_numbers_and_days_are_read_as_they_were_typed() -> None:
    rows = [[0.1, 3.0, 1e-5, 12345678, True, datetime(2026, 1, 14), datetime(2026, 1, 14, 18, 30)]]
    book = Workbook()
    book.active.append(rows[0])
    file = BytesIO()
    book.save(file)
    cells = read_sheet(file.getvalue())[0].cells
    told = ("0.1", "3", "0.00001", "12345678", "yes", "2026-01-14", "2026-01-14 18:30")
    assert cells == told
    assert read_sheet(write_csv([[date(2026, 1, 14), False, None, "x"]]))[0].cells == (
        "2026-01-14", "no", "", "x"
    )  # fmt: skip


def test_a_formula_is_refused_and_not_worked_out() -> None:
    book = Workbook()
    book.active.append(["Item", "On hand"])
    book.active.append(["Tube", "=6*7"])
    file = BytesIO()
    book.save(file)
    with pytest.raises(SheetRefused, match=r"Row 2 holds a formula.*as values"):
        read_sheet(file.getvalue())


def bomb() -> bytes:
    file = BytesIO()
    with ZipFile(file, "w", ZIP_DEFLATED) as packed:
        packed.writestr("xl/workbook.xml", b"0" * (UNPACKED_MOST + 1))
    return file.getvalue()


def entities() -> bytes:
    """A workbook whose XML would fill the memory, were its entities unfolded."""
    file, made = BytesIO(), BytesIO(as_xlsx([["a"]]))
    trick = '<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]>'
    with ZipFile(made) as old, ZipFile(file, "w") as new:
        for part in old.namelist():
            text = old.read(part)
            if part.startswith("xl/worksheets/"):
                text = trick.encode() + text.split(b"?>", 1)[-1].replace(b">a<", b">&b;<")
            new.writestr(part, text)
    return file.getvalue()


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "is empty"),
        (b" \n ", "is empty"),
        (b"a" * 5_000_001, "larger than 5 MB"),
        (b"\xd0\xcf\x11\xe0 old", "old or a locked spreadsheet"),
        (b"PK\x03\x04 broken", "is damaged"),
        (b"\x81\x8d\x00", "cannot be read"),
        (b"a\x00b,c\n", "is no table"),
        (b"a,b\n" + b"x" * 2_001, "more than 2000 letters"),
        (b",".join([b"x"] * (COLUMNS_MOST + 1)), "over 60 columns"),
        (b"x\n" * (ROWS_MOST + 2), "more than 20,000 rows"),
        (b"x" + b"\n" * 200_000 + b"y", "more than 20,000 rows"),
    ],
    ids=lambda each: each if isinstance(each, str) else "file",
)
def test_a_file_that_cannot_be_read_says_what_to_do(data: bytes, says: str) -> None:
    with pytest.raises(SheetRefused, match=says):
        read_sheet(data)


def test_a_zip_that_unpacks_to_far_too_much_is_refused_unopened() -> None:
    with pytest.raises(SheetRefused, match="far too much"):
        read_sheet(bomb())


def test_entity_tricks_are_refused() -> None:
    with pytest.raises(SheetRefused, match="damaged"):
        read_sheet(entities())


def test_another_kind_of_zip_is_refused() -> None:
    file = BytesIO()
    with ZipFile(file, "w") as packed:
        packed.writestr("letter.txt", b"dear all")
    with pytest.raises(SheetRefused, match="no spreadsheet in the XLSX form"):
        read_sheet(file.getvalue())
