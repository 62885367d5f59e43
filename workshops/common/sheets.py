"""Tables of text from a file, and into one: CSV as people's programs write it, and XLSX.

Reading gives rows of text with the numbers their program shows. Nothing in a file is
worked out: a formula is refused, not evaluated. Writing keeps texts from being taken for
formulas when the file is opened elsewhere, and reading takes that guard off again.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time
from decimal import Decimal
from io import BytesIO, StringIO
from typing import IO, Any
from zipfile import BadZipFile, ZipFile

from openpyxl import Workbook, load_workbook

BYTES_MOST = 5_000_000
UNPACKED_MOST = 80_000_000  # a zip of nothing but noughts unpacks to a thousand times its size
ROWS_MOST = 20_000
BLANK_MOST = 100_000  # a file of blank rows is read to its end by nobody
COLUMNS_MOST = 60
LETTERS_MOST = 2_000  # in one cell

SEPARATORS = ",;\t"
_OLD_EXCEL = b"\xd0\xcf\x11\xe0"
_XLSX = b"PK"
# What other programs take for the beginning of a formula, the wide signs included.
_FORMULA = re.compile(r"'*[=+\-@\t\r\n＝＋－＠]")
_GUARDED = re.compile(r"'+[=+\-@\t\r\n＝＋－＠]")
_NUMBER = re.compile(r"-\d+(\.\d+)?")
# Neither a CSV nor an XLSX can carry them, and nobody typed them on purpose.
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")

Cell = str | Decimal | int | date | datetime | bool | None


class SheetRefused(ValueError):
    """A file that cannot be read as a table; the sentence says what to do."""


@dataclass(frozen=True, slots=True)
class Row:
    """One row of text under the number that the person's program shows beside it."""

    number: int
    cells: tuple[str, ...]


def read_sheet(data: bytes) -> list[Row]:
    """The rows of a CSV or XLSX file that hold anything, cells at their ends left out.

    CSV may be UTF-8 (with or without its mark), UTF-16 with its mark or Windows-1252,
    parted by commas, semicolons or tabs. Of an XLSX the first sheet is read.

    Raises
    ------
    SheetRefused
        For an empty, too large, damaged or other kind of file, or a formula in a cell.
    """
    if not data.strip():
        raise SheetRefused("The file is empty. Choose the file with your list.")
    if len(data) > BYTES_MOST:
        raise SheetRefused(
            f"The file is larger than {BYTES_MOST // 1_000_000} MB. Part it into several files."
        )
    if data.startswith(_OLD_EXCEL):
        raise SheetRefused(
            "This is an old or a locked spreadsheet. Save it without a password as XLSX or CSV."
        )
    return _limited(_xlsx_rows(data) if data.startswith(_XLSX) else _csv_rows(data))


def _limited(rows: Iterable[tuple[int, Sequence[str]]]) -> list[Row]:
    found: list[Row] = []
    for number, cells in rows:
        row = Row(number, _trimmed(cells))
        if len(row.cells) > COLUMNS_MOST:
            raise SheetRefused(f"Row {number} has over {COLUMNS_MOST} columns. Leave some out.")
        if any(len(cell) > LETTERS_MOST for cell in row.cells):
            raise SheetRefused(
                f"Row {number} has a cell of more than {LETTERS_MOST} letters. "
                "Is a quotation mark missing at its end?"
            )
        if row.cells:
            found.append(row)
        if len(found) > ROWS_MOST + 1 or number - len(found) > BLANK_MOST:
            raise SheetRefused(
                f"The file has more than {ROWS_MOST:,} rows. Part it into several files."
            )
    return found


def _trimmed(cells: Sequence[str]) -> tuple[str, ...]:
    """Without the empty cells at the end, which spreadsheets add as they like."""
    end = len(cells)
    while end and not cells[end - 1].strip():
        end -= 1
    return tuple(cells[:end])


# ---- reading CSV ---------------------------------------------------------------------


def _csv_rows(data: bytes) -> Iterator[tuple[int, list[str]]]:
    text = _decoded(data)
    if "\x00" in text:
        raise SheetRefused("This is no table. Save your list as XLSX or CSV and choose that file.")
    reader = csv.reader(StringIO(text, newline=""), delimiter=separator_of(text))
    try:
        for number, cells in enumerate(reader, start=1):
            yield number, [unguarded(_clean(cell)) for cell in cells]
    except csv.Error as wrong:
        raise SheetRefused(
            f"The file cannot be read near its line {reader.line_num}: is a quotation mark missing?"
        ) from wrong


def _decoded(data: bytes) -> str:
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        encodings = ["utf-16"]
    else:
        # Almost nothing in Windows-1252 happens to be UTF-8 as well, so UTF-8 goes first.
        encodings = ["utf-8-sig", "cp1252"]
    for encoding in encodings:
        try:
            return data.decode(encoding)
        except UnicodeDecodeError:
            continue
    raise SheetRefused("The letters of this file cannot be read. Save it as “CSV UTF-8” or XLSX.")


def separator_of(text: str) -> str:
    """The separator that parts the first row most often outside quotation marks."""
    counts = dict.fromkeys(SEPARATORS, 0)
    is_quoted, before = False, "\n"
    for letter in text.lstrip("\r\n"):
        if letter == '"' and (is_quoted or before in SEPARATORS + "\n"):
            # A doubled mark inside a quotation closes and opens it again: no matter.
            is_quoted = not is_quoted
        elif not is_quoted and letter in "\r\n":
            break
        elif not is_quoted and letter in counts:
            counts[letter] += 1
        before = letter if letter != '"' else before
    return max(counts, key=lambda sign: counts[sign])


# ---- reading XLSX --------------------------------------------------------------------


def _xlsx_rows(data: bytes) -> Iterator[tuple[int, list[str]]]:
    _refuse_bomb(data)
    try:
        book = load_workbook(BytesIO(data), read_only=True, keep_links=False)
        sheet = book.worksheets[0]
        # What the file says of its own size is often wrong, and can be made up.
        sheet.reset_dimensions()
        for number, cells in enumerate(sheet.iter_rows(max_col=COLUMNS_MOST + 1), start=1):
            yield number, [_xlsx_text(cell, number) for cell in cells]
    except SheetRefused:
        raise
    # A damaged or made-up file fails in whichever part reads it first, with any error.
    except Exception as wrong:
        raise SheetRefused(
            "The spreadsheet is damaged. Open it, save it anew as XLSX or CSV, and choose that."
        ) from wrong


def _refuse_bomb(data: bytes) -> None:
    try:
        with ZipFile(BytesIO(data)) as packed:
            parts = packed.infolist()
    except BadZipFile as wrong:
        raise SheetRefused(
            "The spreadsheet is damaged. Open it, save it anew as XLSX or CSV, and choose that."
        ) from wrong
    # No more than the size that is told here is ever unpacked of a part.
    if sum(part.file_size for part in parts) > UNPACKED_MOST:
        raise SheetRefused("The spreadsheet unpacks to far too much. Save only your list, as CSV.")
    if "xl/workbook.xml" not in {part.filename for part in parts}:
        raise SheetRefused("This is no spreadsheet in the XLSX form. Save it as XLSX or CSV.")


def _xlsx_text(cell: Any, number: int) -> str:
    # Most cells of a wide sheet are empty, and the reader fills each row up with them.
    if cell.value is None:
        return ""
    if cell.data_type == "f":
        raise SheetRefused(
            f"Row {number} holds a formula. Copy the column, paste it as values and save again."
        )
    return unguarded(_clean(_plain(cell.value)))


def _plain(value: Any) -> str:
    """The text of a cell's value: numbers without an exponent, days as 2026-01-14."""
    if value is None:
        return ""
    if isinstance(value, str):
        return value
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, datetime):
        return _day_text(value)
    if isinstance(value, float):
        # By way of its shortest spelling: 0.1 was typed, and 0.1000000000000000055 was not.
        exact = Decimal(repr(value))
        return f"{exact.to_integral_value() if exact == exact.to_integral_value() else exact:f}"
    return str(value)


def _day_text(value: datetime) -> str:
    if value.time() == time(0):
        return value.date().isoformat()
    return value.isoformat(sep=" ", timespec="minutes" if not value.second else "seconds")


# ---- writing -------------------------------------------------------------------------


def csv_lines(rows: Iterable[Sequence[Cell]]) -> Iterator[str]:
    """The rows as lines of CSV, one by one, so that a long book can be sent as it is read."""
    # The mark tells spreadsheets that the letters are UTF-8.
    yield "\ufeff"
    held = StringIO()
    # Every text in quotation marks: whatever stands in it, it cannot be taken for a separator.
    writer = csv.writer(held, quoting=csv.QUOTE_NONNUMERIC, lineterminator="\r\n")
    for row in rows:
        writer.writerow([_csv_cell(cell) for cell in row])
        yield held.getvalue()
        held.seek(0)
        held.truncate()


def write_csv(rows: Iterable[Sequence[Cell]]) -> bytes:
    """The rows as one CSV file in UTF-8."""
    return "".join(csv_lines(rows)).encode()


def _csv_cell(cell: Cell) -> str | Decimal | int:
    made = _cell(cell)
    return _Plain(made) if isinstance(made, Decimal) else made


class _Plain(Decimal):
    """A decimal that is written without an exponent: 200 and not 2E+2."""

    def __str__(self) -> str:
        return f"{self:f}"


def write_xlsx(rows: Iterable[Sequence[Cell]], *, title: str, file: IO[bytes]) -> None:
    """Write the rows as a workbook of one sheet, heading row kept in sight."""
    book = Workbook(write_only=True)
    sheet = book.create_sheet(title)
    sheet.freeze_panes = "A2"
    for row in rows:
        sheet.append([_cell(cell) for cell in row])
    book.save(file)


def _cell(cell: Cell) -> str | Decimal | int:
    if isinstance(cell, int | Decimal) and not isinstance(cell, bool):
        return cell
    # A workbook would keep a text a text; but it may be saved as CSV later, by somebody else.
    return guarded(_clean(_written(cell)))


def _written(cell: Cell) -> str:
    if isinstance(cell, datetime):
        return cell.isoformat(sep=" ", timespec="minutes")
    return _plain(cell) if not isinstance(cell, date) else cell.isoformat()


def guarded(text: str) -> str:
    """The text with an apostrophe before it when a spreadsheet would take it for a formula.

    Negative numbers stay what they are. Apostrophes that stand before such a sign already
    get one more, so that taking one off gives back every text.
    """
    return f"'{text}" if _FORMULA.match(text) and not _NUMBER.fullmatch(text) else text


def unguarded(text: str) -> str:
    """The text as it was before ``guarded``."""
    return text[1:] if _GUARDED.match(text) else text


def _clean(text: str) -> str:
    """Line ends of one kind, and no signs that no file can carry."""
    return _CONTROL.sub("", text.replace("\r\n", "\n").replace("\r", "\n"))
