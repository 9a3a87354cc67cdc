"""Spreadsheets as rows of plain values: csv in several spellings, and xlsx with every sheet."""

import codecs
import csv
import io
import warnings
import zipfile
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, time
from pathlib import Path

import openpyxl
from openpyxl.cell.cell import MergedCell
from openpyxl.utils import get_column_letter
from openpyxl.utils.exceptions import InvalidFileException
from openpyxl.worksheet.worksheet import Worksheet

from halewright.core.errors import Problem

Value = str | int | float | bool | date | time

_DELIMITERS = (",", ";", "\t")
_HEADING_ROWS_SEARCHED = 20
_FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r")
_GUARDED = (*_FORMULA_SIGNS, "'")
_ZIP_SIGN = b"PK\x03\x04"
_MOST_UNPACKED_BYTES = 100_000_000
"""A list of people is a thousandth of this; a small file that unpacks to more is a trap."""
_TOO_LARGE = "Copy the rows that matter into a new workbook, save that, and try again."
_RESAVE = "Open the file in your spreadsheet program, save it as .xlsx or .csv, and try again."


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One row; `number` counts from 1 as a spreadsheet shows it, None is an empty cell."""

    number: int
    values: tuple[Value | None, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """The rows of one sheet that hold anything; `name` is None for a csv file."""

    file: str
    name: str | None
    rows: tuple[Row, ...]


def read(
    path: Path, *, file: str, known: Callable[[str], bool]
) -> tuple[tuple[Sheet, ...], tuple[Problem, ...]]:
    """Return every sheet of a csv or xlsx file, and what could not be read of it.

    `file` is the name used in problems; `known` tells a heading from other text and so decides
    which sign separates the cells of a csv file.
    """
    try:
        content = path.read_bytes()
    except OSError:
        return (), (Problem(file=file, read="no such file", mend="Choose a file that is there."),)
    if content.startswith(_ZIP_SIGN):
        return _read_workbook(content, file=file)
    if b"\0" in content and not content.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return (), (Problem(file=file, read="not a csv or xlsx file", mend=_RESAVE),)
    try:
        rows = _csv_rows(decoded(content), known=known)
    except (UnicodeDecodeError, csv.Error):
        mend = "Save the file as “CSV UTF-8” in your spreadsheet program."
        return (), (Problem(file=file, read="bytes that are not a table of text", mend=mend),)
    return (Sheet(file=file, name=None, rows=rows),), ()


def decoded(content: bytes) -> str:
    """Decode UTF-8 with or without its mark, UTF-16 with one, or else Windows-1252.

    Raises UnicodeDecodeError when the content is none of them.
    """
    if content.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return content.decode("utf-16")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return content.decode("cp1252")


def guarded(text: str) -> str:
    """Put an apostrophe before text that a spreadsheet would run as a formula."""
    return f"'{text}" if text.startswith(_GUARDED) else text


def unguarded(text: str) -> str:
    """Take away the apostrophe that `guarded` adds, and no other."""
    return text[1:] if text[:1] == "'" and text[1:2] in _GUARDED else text


def write_csv(path: Path, *, headings: tuple[str, ...], rows: list[tuple[str, ...]]) -> None:
    """Write a csv file as UTF-8 with the mark that spreadsheet programs look for."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(headings)
    writer.writerows(tuple(guarded(cell) for cell in row) for row in rows)
    path.write_bytes(out.getvalue().encode("utf-8-sig"))


def _csv_rows(text: str, *, known: Callable[[str], bool]) -> tuple[Row, ...]:
    """Parse with the sign under which some row has the most known headings; comma on a tie."""
    best: tuple[Row, ...] = ()
    most = -1
    for delimiter in _DELIMITERS:
        rows = _parsed(text, delimiter=delimiter)
        found = max(
            (
                sum(isinstance(cell, str) and known(cell) for cell in row.values)
                for row in rows[:_HEADING_ROWS_SEARCHED]
            ),
            default=0,
        )
        if found > most:
            best, most = rows, found
    return best


def _parsed(text: str, *, delimiter: str) -> tuple[Row, ...]:
    """Number rows by record, as a spreadsheet program shows them once it has opened the file."""
    rows = []
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)
    for number, cells in enumerate(reader, start=1):
        values = tuple(_clean(cell) for cell in cells)
        if any(value is not None for value in values):
            rows.append(Row(number=number, values=values))
    return tuple(rows)


def _clean(text: str) -> str | None:
    """Trim a cell; hard spaces and line ends of other machines become ours."""
    plain = text.replace("\xa0", " ").replace("\r\n", "\n").replace("\r", "\n").strip()
    return unguarded(plain) or None


def _read_workbook(content: bytes, *, file: str) -> tuple[tuple[Sheet, ...], tuple[Problem, ...]]:
    try:
        with warnings.catch_warnings():
            # Drop-down lists and themes that openpyxl cannot keep do not concern a reader.
            warnings.simplefilter("ignore")
            with zipfile.ZipFile(io.BytesIO(content)) as packed:
                unpacked_bytes = sum(item.file_size for item in packed.infolist())
            if unpacked_bytes > _MOST_UNPACKED_BYTES:
                return (), (Problem(file=file, read="a very large workbook", mend=_TOO_LARGE),)
            shown = openpyxl.load_workbook(io.BytesIO(content), data_only=True)
            written = openpyxl.load_workbook(io.BytesIO(content), data_only=False)
    except (InvalidFileException, zipfile.BadZipFile, KeyError, ValueError, OSError) as error:
        return (), (Problem(file=file, read=str(error) or "not a workbook", mend=_RESAVE),)
    sheets, problems = [], []
    for name in shown.sheetnames:
        page, formulas = shown[name], written[name]
        if isinstance(page, Worksheet) and isinstance(formulas, Worksheet):
            sheets.append(Sheet(file=file, name=name, rows=_sheet_rows(page)))
            problems += _uncounted(page, formulas, file=file)
    return tuple(sheets), tuple(problems)


def _sheet_rows(page: Worksheet) -> tuple[Row, ...]:
    """Return the rows; a value merged down several rows counts for each of them.

    A row that holds nothing of its own stays empty: a merge that runs into it says nothing.
    """
    down: dict[tuple[int, int], Value | None] = {}
    for area in page.merged_cells.ranges:
        value = _cell_value(page.cell(area.min_row, area.min_col).value)
        down.update(
            {(row, area.min_col): value for row in range(area.min_row + 1, area.max_row + 1)}
        )
    rows = []
    for cells in page.iter_rows():
        number = cells[0].row
        own = [None if isinstance(cell, MergedCell) else _cell_value(cell.value) for cell in cells]
        if number is None or all(value is None for value in own):
            continue
        filled = (down.get((number, place), value) for place, value in enumerate(own, start=1))
        rows.append(Row(number=number, values=tuple(filled)))
    return tuple(rows)


def _cell_value(value: object) -> Value | None:
    if isinstance(value, datetime):
        return value.date()
    if isinstance(value, str):
        return _clean(value)
    if isinstance(value, bool | int | float | date | time):
        return value
    return None if value is None else str(value)


def _uncounted(page: Worksheet, formulas: Worksheet, *, file: str) -> list[Problem]:
    """Report formulas whose result was never saved in the file."""
    return [
        Problem(
            file=file,
            sheet=page.title,
            row=cell.row,
            column=get_column_letter(cell.column or 1),
            read=str(cell.value),
            mend="The formula has no saved result. Open the file, save it, and try again.",
        )
        for cells in formulas.iter_rows()
        for cell in cells
        if cell.data_type == "f" and page.cell(cell.row or 1, cell.column or 1).value is None
    ]
