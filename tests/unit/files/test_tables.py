import io
import zipfile
from datetime import date
from pathlib import Path

import openpyxl
import pytest

from halewright.core.errors import Problem
from halewright.files import tables


def known(text: str) -> bool:
    """Tell the headings of these tests from other text."""
    return text in ("Id", "Name", "Notes")


def read(path: Path) -> tuple[tuple[tables.Sheet, ...], tuple[Problem, ...]]:
    """Read a file under its own name."""
    return tables.read(path, file=path.name, known=known)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
def test_csv_is_read_in_the_usual_spellings(tmp_path: Path, encoding: str, delimiter: str) -> None:
    """Encodings and separators of common programs give the same cells."""
    path = tmp_path / "list.csv"
    path.write_bytes(f"Id{delimiter}Name\r\n1{delimiter}Zoë\r\n".encode(encoding))

    (sheet,), problems = read(path)

    assert problems == ()
    assert [row.values for row in sheet.rows] == [("Id", "Name"), ("1", "Zoë")]


def test_semicolons_in_notes_do_not_split_a_csv(tmp_path: Path) -> None:
    """The separator is the one that makes headings, not the most frequent sign."""
    path = tmp_path / "list.csv"
    path.write_text("Id,Name\n1,a; b; c; d; e\n", "utf-8")

    (sheet,), _ = read(path)

    assert sheet.rows[1].values == ("1", "a; b; c; d; e")


def test_rows_keep_the_numbers_a_spreadsheet_shows(tmp_path: Path) -> None:
    """Blank rows are left out but counted."""
    path = tmp_path / "list.csv"
    path.write_text("Id,Name\n\n,,\n1,Joan\n", "utf-8")

    (sheet,), _ = read(path)

    assert [row.number for row in sheet.rows] == [1, 4]


def test_a_workbook_gives_values_dates_and_merged_notes(tmp_path: Path) -> None:
    """Dates are dates, a note merged down counts for each row, merged blank rows stay blank."""
    book = openpyxl.Workbook()
    page = book.create_sheet("People")
    page.append(["Id", "Name", "Notes"])
    page.append([1, date(1941, 3, 5), "share a car"])
    page.append([2, "Raj", None])
    page.merge_cells("C2:C4")
    path = tmp_path / "list.xlsx"
    book.save(path)

    (_, sheet), problems = read(path)

    assert problems == ()
    assert [row.values for row in sheet.rows[1:]] == [
        (1, date(1941, 3, 5), "share a car"),
        (2, "Raj", "share a car"),
    ]


def test_a_formula_without_a_saved_result_is_a_problem(tmp_path: Path) -> None:
    """A cell whose result was never saved is not taken for an empty one."""
    book = openpyxl.Workbook()
    page = book.create_sheet("People")
    page["B2"] = "=A1+1"
    path = tmp_path / "list.xlsx"
    book.save(path)

    _, problems = read(path)

    assert [(item.sheet, item.row, item.column) for item in problems] == [("People", 2, "B")]


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("old.xls", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 40),
        ("broken.xlsx", b"PK\x03\x04 and no more"),
        ("odd.csv", b"Id,Name\n1,\x81\x8d\n"),
    ],
)
def test_a_file_that_is_no_table_is_one_problem(tmp_path: Path, name: str, content: bytes) -> None:
    """A file of another kind is named, with what to do, and nothing is read of it."""
    path = tmp_path / name
    path.write_bytes(content)

    sheets, problems = read(path)

    assert sheets == ()
    assert [item.file for item in problems] == [name]


def test_a_missing_file_is_a_problem(tmp_path: Path) -> None:
    """A file that is not there is said to be so."""
    _, problems = read(tmp_path / "none.csv")

    assert problems[0].read == "no such file"


@pytest.mark.parametrize("text", ["=1+1", "+44 7700 900123", "-5", "@home", "'tis", "'=1", "plain"])
def test_formula_signs_are_guarded_and_come_back(tmp_path: Path, text: str) -> None:
    """No cell that is written begins a formula, and reading gives the very same text."""
    path = tmp_path / "list.csv"

    tables.write_csv(path, headings=("Id", "Name"), rows=[("1", text)])

    raw = path.read_text("utf-8-sig").splitlines()[1].split(",")[1].strip('"')
    assert raw[0] not in "=+-@"
    assert read(path)[0][0].rows[1].values == ("1", text)


def test_a_workbook_that_unpacks_to_too_much_is_refused(tmp_path: Path) -> None:
    """A small file of endless zeros is refused before it is unpacked."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/workbook.xml", b"\0" * 101_000_000)
    path = tmp_path / "trap.xlsx"
    path.write_bytes(packed.getvalue())

    _, problems = read(path)

    assert problems[0].read == "a very large workbook"
