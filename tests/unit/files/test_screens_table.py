import csv
from datetime import date
from pathlib import Path

from halewright.core.people.group import RawScreen
from halewright.core.people.person import PersonId
from halewright.core.screening import questions
from halewright.files import decisions_table, records, screens_table

PEOPLE = ((PersonId("a1"), "Joan"), (PersonId("a2"), "Raj"))


def write(path: Path, *rows: tuple[str, ...]) -> Path:
    """Write rows as a csv file."""
    with path.open("w", newline="", encoding="utf-8") as file:
        csv.writer(file).writerows(rows)
    return path


def read(path: Path) -> tuple[tuple[RawScreen, ...], records.Findings]:
    """Read screens of the people of these tests."""
    findings = records.Findings()
    screens = screens_table.read(path, file=path.name, people=PEOPLE, findings=findings)
    return screens, findings


def test_answers_come_in_the_order_of_the_form(tmp_path: Path) -> None:
    """Questions may be headed by name or in their own words, in any order of columns."""
    path = write(
        tmp_path / "screens.csv",
        ("Diabetes", "Person", questions.BY_ID["epilepsy"].words, "Chest pain", "Date"),
        ("yes", "A1", "no", "no", "5/12/2026"),
    )

    (screen,), findings = read(path)

    assert findings.problems == []
    assert screen.person == "a1"
    assert screen.answered_on == date(2026, 12, 5)
    assert screen.answers == (("chest_pain", "no"), ("diabetes", "yes"), ("epilepsy", "no"))


def test_the_latest_screen_of_a_person_counts(tmp_path: Path) -> None:
    """Of two screens the later dated one is kept, wherever it stands; undated is oldest."""
    path = write(
        tmp_path / "screens.csv",
        ("Person", "Answered on", "Diabetes"),
        ("a1", "2026-12-05", "yes"),
        ("a1", "2026-03-05", "no"),
        ("a1", "", "no"),
    )

    screens, findings = read(path)

    assert findings.problems == []
    assert [item.answers for item in screens] == [(("diabetes", "yes"),)]


def test_strange_people_questions_and_answers_are_told(tmp_path: Path) -> None:
    """An unknown person, a heading that is no question and an unclear answer are told."""
    path = write(
        tmp_path / "screens.csv",
        ("Person", "Answered on", "Diabetis", "Epilepsy", "Signature"),
        ("Joan", "2026-12-05", "no", "no", "J"),
        ("a2", "2026-12-05", "no", "no but once", "R"),
    )

    _, findings = read(path)

    assert {(item.row, item.column, item.read) for item in findings.problems} == {
        (2, "A (Person)", "Joan"),
        (1, "C (Diabetis)", "Diabetis"),
        (3, "D (Epilepsy)", "no but once"),
    }
    mends = " ".join(item.mend for item in findings.problems)
    assert "Did you mean a1?" in mends
    assert "Did you mean diabetes?" in mends
    assert findings.ignored == ["Signature"]


def test_a_decision_lacking_a_part_is_a_problem(tmp_path: Path) -> None:
    """Flag, decision, name and date are each needed; the flag is spelt as the programme does."""
    path = write(
        tmp_path / "decisions.csv",
        ("Person", "Flag", "Decision", "By", "On", "Note"),
        ("a1", "Chest pain", "Go ahead", "Dr Okoro", "5 Dec 2026", ""),
        ("a2", "stroke", "perhaps", "", "", ""),
    )
    findings = records.Findings()

    decisions = decisions_table.read(path, file=path.name, people=PEOPLE, findings=findings)

    assert [(item.flag, item.go_ahead, item.by) for item in decisions] == [
        ("chest_pain", True, "Dr Okoro")
    ]
    assert {(item.row, item.column) for item in findings.problems} == {
        (3, "C (Decision)"),
        (3, "D (By)"),
        (3, "E (On)"),
    }
