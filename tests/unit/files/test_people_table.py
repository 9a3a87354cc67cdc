import csv
from collections.abc import Sequence
from datetime import date
from pathlib import Path

import openpyxl
import pytest

from halewright.core.people.limits import Measure
from halewright.core.people.person import (
    Birth,
    EmergencyContact,
    LatexReaction,
    Person,
    PersonId,
    Sex,
    Standing,
    Weekday,
)
from halewright.files import people_table, records

ON = date(2027, 1, 12)
Cells = Sequence[Sequence[object]]


def write_csv(path: Path, rows: Cells) -> Path:
    """Write rows as a plain csv file."""
    with path.open("w", newline="", encoding="utf-8") as file:
        csv.writer(file).writerows(rows)
    return path


def write_xlsx(path: Path, rows: Cells, *, sheet: str = "List") -> Path:
    """Write rows as the only sheet of a workbook."""
    book = openpyxl.Workbook()
    page = book.worksheets[0]
    page.title = sheet
    for row in rows:
        page.append(list(row))
    book.save(path)
    return path


def read(path: Path) -> tuple[tuple[Person, ...], records.Findings]:
    """Read people under the file's own name."""
    findings = records.Findings()
    people = people_table.read(path, file=path.name, findings=findings, on=ON)
    return people, findings


HEADINGS = [
    "WEIGHT (kg)", "d.o.b.", "Room", "Known  as", "Ref.", "Height", "Latex?", "NEXT OF KIN",
    "M / F", "Can stand", "Comments", "Days", "Must avoid", "Notes", "Holidays",
]  # fmt: skip
MESSY = [
    ["Tuesday group – list kept by Priya"],
    [],
    HEADINGS,
    ["11 st 4", date(1941, 3, 5), "4", "Joan", 1, "5 ft 4", "no",
     "Ann Lee, daughter, 07700 900123", "f", "one hand", "likes the window", "tue",
     "right hip at most 90 (Dr Okoro 2026-05-02)", None, "2/2/2027 to 14 Feb 2027"],
    [None] * 15,
    ["150 lb", "March 1939", "", "Raj", 2, 1.62, "rash",
     "Bea Ray (wife) 07700 900124; Sam, son, 01632 960123", "M", "seated", "", "both", "",
     "late bus", ""],
    HEADINGS,
    [68, 1944, None, "Zoë", 3, 162, "?", "n/a", "not stated", "", "-", None, "none", None, None],
]  # fmt: skip


@pytest.mark.parametrize("kind", ["csv", "xlsx"])
def test_a_messy_list_that_can_be_understood_comes_in_whole(tmp_path: Path, kind: str) -> None:
    """Titles, blank and repeated rows, odd headings and units leave no problem and no gap."""
    rows = [list(row) for row in MESSY]
    if kind == "csv":
        rows[3][1] = "5/3/1941"
        path = write_csv(tmp_path / "list.csv", rows)
    else:
        path = write_xlsx(tmp_path / "list.xlsx", rows)

    (joan, raj, zoe), findings = read(path)

    assert findings.problems == []
    assert findings.ignored == ["Room"]
    assert joan.birth == Birth(year=1941, on=date(1941, 3, 5))
    # 11 st 4 lb = 158 lb × 0.45359237 kg = 71.66759446 kg; 5 ft 4 in = 64 × 0.0254 m = 1.6256 m
    assert joan.mass_kg == pytest.approx(71.66759446)
    assert joan.stature_m == pytest.approx(1.6256)
    assert joan.contacts == (
        EmergencyContact(name="Ann Lee", relation="daughter", phone="07700 900123"),
    )
    assert joan.limits[0].measure is Measure.HIP_FLEXION
    assert joan.days == (Weekday.TUESDAY,)
    assert joan.away == ((date(2027, 2, 2), date(2027, 2, 14)),)
    assert (raj.id, raj.birth, raj.latex) == ("2", Birth(year=1939), LatexReaction.SKIN)
    assert [item.name for item in raj.contacts] == ["Bea Ray", "Sam"]
    assert raj.standing is Standing.SEATED_ONLY
    assert raj.notes == "late bus"
    assert (zoe.sex, zoe.stature_m, zoe.latex, zoe.notes) == (
        Sex.NOT_STATED,
        1.62,
        LatexReaction.NOT_KNOWN,
        "",
    )


FILTHY = [
    ["Id", "Name", "Born", "Height", "Weight", "Latex", "Standing", "Limits", "Emergency contact",
     "Print", "Days", "Away", "Sex", "Joined"],
    ["a1", "Joan", "31/2/1941", "16.2", "11.4", "yes", "maybe", "be careful", "Ann",
     "tiny", "Someday", "all of May", "both?", "soon"],
    ["", "Raj", 2001, "", "", "", "", "", "", "", "", "", "", ""],
    ["a3", "Ola", 1910, "", "", "", "", "", "", "", "", "", "", ""],
    ["A1", "", 1890, "", "", "", "", "", "", "", "", "", "", ""],
]  # fmt: skip

EVERY_PROBLEM = {
    (2, "C (Born)", "31/2/1941"),
    (2, "D (Height)", "16.2"),
    (2, "E (Weight)", "11.4"),
    (2, "F (Latex)", "yes"),
    (2, "G (Standing)", "maybe"),
    (2, "H (Limits)", "be careful"),
    (2, "I (Emergency contact)", "Ann"),
    (2, "J (Print)", "tiny"),
    (2, "K (Days)", "Someday"),
    (2, "L (Away)", "all of May"),
    (2, "M (Sex)", "both?"),
    (2, "N (Joined)", "soon"),
    (3, "A (Id)", ""),
    (3, "C (Born)", "2001"),
    (4, "C (Born)", "1910"),
    (5, "A (Id)", "A1"),
    (5, "B (Name)", ""),
    (5, "C (Born)", "1890"),
}


@pytest.mark.parametrize("kind", ["csv", "xlsx"])
def test_a_filthy_list_shows_every_problem_with_its_place(tmp_path: Path, kind: str) -> None:
    """All eighteen problems are told at once, each with file, sheet, row, column and a mend."""
    path = tmp_path / f"filthy.{kind}"
    sheet = None if kind == "csv" else "Autumn"
    if kind == "csv":
        write_csv(path, FILTHY)
    else:
        write_xlsx(path, FILTHY, sheet="Autumn")

    _, findings = read(path)

    assert {(item.row, item.column, item.read) for item in findings.problems} == EVERY_PROBLEM
    assert len(findings.problems) == len(EVERY_PROBLEM)
    assert {(item.file, item.sheet) for item in findings.problems} == {(path.name, sheet)}
    assert all(len(item.mend) > 10 for item in findings.problems)


def test_a_blank_id_is_told_with_a_free_one(tmp_path: Path) -> None:
    """The proposed id is made of the name and belongs to nobody yet."""
    path = write_csv(tmp_path / "list.csv", [["Id", "Name"], ["raj-1", "Raj"], ["", "Raj"]])

    _, findings = read(path)

    assert "raj-2" in findings.problems[0].mend


def test_no_column_of_ids_is_one_problem_not_one_a_row(tmp_path: Path) -> None:
    """A list without ids is told once, at its headings."""
    path = write_csv(tmp_path / "list.csv", [["Name", "Born"], ["Joan", 1941], ["Raj", 1939]])

    _, findings = read(path)

    assert [(item.row, item.read) for item in findings.problems] == [(1, "no column headed “Id”")]


def test_two_columns_for_one_thing_are_a_problem(tmp_path: Path) -> None:
    """Nothing is guessed when two headings mean the same."""
    path = write_csv(
        tmp_path / "list.csv", [["Id", "Name", "Height", "Stature (cm)"], ["1", "Joan", 1.6, 161]]
    )

    _, findings = read(path)

    assert [item.column for item in findings.problems] == ["D (Stature (cm))"]
    assert "C (Height)" in findings.problems[0].mend


def test_the_name_people_like_wins_over_the_first_name(tmp_path: Path) -> None:
    """A column “Known as” is used, and “First name” beside it is listed as ignored."""
    path = write_csv(
        tmp_path / "list.csv", [["First name", "Known as", "Id"], ["Josephine", "Jo", "1"]]
    )

    people, findings = read(path)

    assert people[0].preferred_name == "Jo"
    assert findings.ignored == ["First name"]
    assert findings.problems == []


def test_contacts_can_have_columns_of_their_own(tmp_path: Path) -> None:
    """A number that a spreadsheet robbed of its first 0 gets it back."""
    path = write_xlsx(
        tmp_path / "list.xlsx",
        [
            ["Id", "Name", "Emergency contact name", "Emergency contact phone", "Contact 2 name",
             "Contact 2 relationship", "Contact 2 tel"],
            ["1", "Joan", "Ann", 7700900123, "Sam", "son", "07700 900124"],
        ],
    )  # fmt: skip

    people, findings = read(path)

    assert findings.problems == []
    assert people[0].contacts == (
        EmergencyContact(name="Ann", relation="", phone="07700900123"),
        EmergencyContact(name="Sam", relation="son", phone="07700 900124"),
    )


def test_a_contact_without_a_number_is_a_problem(tmp_path: Path) -> None:
    """Whom to ring is of no use without the number."""
    path = write_csv(
        tmp_path / "list.csv",
        [["Id", "Name", "Contact 1 name", "Contact 1 phone"], ["1", "Joan", "Ann", ""]],
    )

    _, findings = read(path)

    assert [(item.row, item.column) for item in findings.problems] == [(2, "D (Contact 1 phone)")]


def test_next_of_kin_and_their_number_may_stand_in_two_columns(tmp_path: Path) -> None:
    """A name under “Next of kin” goes with the number under “Next of kin phone”."""
    path = write_csv(
        tmp_path / "list.csv",
        [
            ["Id", "Name", "Next of kin", "Next of kin phone"],
            ["1", "Joan", "Ann Lee, daughter", "07700 900123"],
            ["2", "Raj", "", "07700 900124"],
        ],
    )

    people, findings = read(path)

    assert people[0].contacts == (
        EmergencyContact(name="Ann Lee", relation="daughter", phone="07700 900123"),
    )
    assert [(item.row, item.mend) for item in findings.problems] == [
        (3, "Write whose number 07700 900124 is.")
    ]


def test_a_persons_own_number_is_no_emergency_contact(tmp_path: Path) -> None:
    """A column “Contact number” may be the person's own, so it is listed as ignored."""
    path = write_csv(
        tmp_path / "list.csv", [["Id", "Name", "Contact number"], ["1", "Joan", "07700 900123"]]
    )

    people, findings = read(path)

    assert people[0].contacts == ()
    assert findings.ignored == ["Contact number"]


def test_every_sheet_with_people_is_read_and_others_are_named(tmp_path: Path) -> None:
    """A list split over two sheets is one list; a rota is listed as ignored."""
    book = openpyxl.Workbook()
    for title, rows in (
        ("Tuesdays", [["Id", "Name", "Born", "Sex", "Mass"], ["1", "Joan", 1941, "f", 60]]),
        ("Fridays", [["Born", "Id", "Name", "Mass"], [1939, "2", "Raj", 70]]),
        ("Rota", [["Name", "Notes"], ["Sam", "brings the keys"]]),
    ):
        page = book.create_sheet(title)
        for row in rows:
            page.append(row)
    book.save(tmp_path / "list.xlsx")

    people, findings = read(tmp_path / "list.xlsx")

    assert [person.preferred_name for person in people] == ["Joan", "Raj"]
    assert findings.problems == []
    assert findings.ignored == ["list.xlsx, sheet Rota"]


def test_an_error_of_the_spreadsheet_is_a_problem(tmp_path: Path) -> None:
    """A cell that shows #REF! is not taken for words."""
    path = write_csv(tmp_path / "list.csv", [["Id", "Name", "Notes"], ["1", "Joan", "#REF!"]])

    _, findings = read(path)

    assert [(item.row, item.column) for item in findings.problems] == [(2, "C (Notes)")]


def test_a_day_without_a_session_is_a_problem(tmp_path: Path) -> None:
    """Somebody listed for a day on which the group does not meet is shown."""
    path = write_csv(tmp_path / "list.csv", [["Id", "Name", "Days"], ["1", "Joan", "Sunday"]])
    findings = records.Findings()

    people_table.read(
        path, file="list.csv", findings=findings, on=ON, meets=frozenset({Weekday.TUESDAY})
    )

    assert [(item.column, item.read) for item in findings.problems] == [("C (Days)", "Sunday")]


def test_people_written_are_people_read(tmp_path: Path) -> None:
    """A person with everything filled in comes back the same from csv."""
    person = Person(
        id=PersonId("=1"),
        preferred_name="+Jo",
        birth=Birth(year=1941),
        mass_kg=71.66759446,
        stature_m=1.6256,
        food_reactions=("kiwi", "banana"),
        contacts=(EmergencyContact(name="Lee, Ann; May", relation="", phone="+44 7700 900123"),),
        notes="two\nlines; and, signs",
    )
    path = tmp_path / "people.csv"

    people_table.write(path, (person,))

    assert read(path)[0] == (person,)
