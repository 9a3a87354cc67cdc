"""Health screens in a table: a row for each screen, a column for each question."""

import difflib
import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

from halewright.core.errors import Problem
from halewright.core.people.group import RawScreen
from halewright.core.people.person import PersonId
from halewright.core.screening import questions
from halewright.files import headings, quantities, records, screening, tables

FIELDS = (
    headings.Field(key="person", names=("Person", "Id", "Person id", "Participant", "Ref")),
    headings.Field(key="on", names=("Answered on", "Date", "Screened on", "Screen date",
                                    "Date of screen", "Completed on", "Date answered")),
    headings.Field(key="by", names=("Completed by", "By", "Filled in by", "Answered by")),
)  # fmt: skip

_FORM_PARTS = {
    "name", "preferredname", "firstname", "surname", "fullname", "address", "phone", "telephone",
    "email", "age", "dob", "dateofbirth", "gp", "doctor", "surgery", "signature", "signed",
    "witness", "consent", "notes", "comments", "outcome", "reviewdue", "timestamp",
}  # fmt: skip
"""Headings of a paper form that are no question."""

_BY_WORDS: dict[str, str] = {
    headings.plain(words): question.id
    for question in questions.QUESTIONS
    for words in (question.id, question.words)
}

_HEADINGS = ("Person", "Answered on", "Completed by")


def read(
    path: Path,
    *,
    file: str,
    people: Sequence[tuple[PersonId, str]],
    findings: records.Findings,
) -> tuple[RawScreen, ...]:
    """Return the latest screen of each person, in the order in which people first appear.

    `people` are the known identifiers with preferred names. An undated screen counts as older
    than a dated one. Each heading beyond the first three is a question.
    """
    rows = records.read(
        path,
        file=file,
        fields=FIELDS,
        required=("person",),
        findings=findings,
        keep_unknown=True,
    )
    _asked(rows, findings=findings)
    latest: dict[PersonId, RawScreen] = {}
    for row in rows:
        person = known_person(row, people=people)
        screen = RawScreen(
            person=person or PersonId(""),
            answered_on=row.take("on", quantities.day, blank=None),
            completed_by=row.take("by", quantities.text, blank=""),
            answers=_answers(row),
        )
        if person is None:
            continue
        before = latest.get(person)
        if before is None or (screen.answered_on or date.min) >= (before.answered_on or date.min):
            latest[person] = screen
    return tuple(latest.values())


def write(path: Path, screens: Sequence[RawScreen]) -> None:
    """Write screens as csv with a column for every question that anybody answered."""
    asked = tuple(dict.fromkeys(question for item in screens for question, _ in item.answers))
    rows = [
        (
            screen.person,
            "" if screen.answered_on is None else screen.answered_on.isoformat(),
            screen.completed_by,
            *(dict(screen.answers).get(question, "") for question in asked),
        )
        for screen in screens
    ]
    tables.write_csv(path, headings=(*_HEADINGS, *asked), rows=rows)


def known_person(
    row: records.Record, *, people: Sequence[tuple[PersonId, str]], key: str = "person"
) -> PersonId | None:
    """Return the person whom a row is about; an unknown or missing one is noted as a problem."""
    spelt = "".join(quantities.text(cell.value) for cell in row.cells.get(key, ()))
    found = [known for known, _ in people if known.casefold() == spelt.casefold()]
    if found:
        return found[0]
    if key not in row.columns:
        return None
    named = [known for known, name in people if name.casefold() == spelt.casefold()]
    hint = f" Did you mean {named[0]}?" if len(named) == 1 else ""
    row.problem(
        key=key,
        read=spelt,
        mend="Write the id of somebody in the people file, or add the person there." + hint,
    )
    return None


def identifier(words: str) -> str:
    """Return a question or flag as the programme spells it: chest_pain for “Chest pain”."""
    return re.sub(r"[^a-z0-9]+", "_", words.casefold().replace("’", "").replace("'", "")).strip("_")


def _asked(rows: Sequence[records.Record], *, findings: records.Findings) -> None:
    """Note headings that are no question, and lists those of the paper form as ignored."""
    places = {
        (row.sheet, heading): (row, cell.column) for row in rows for heading, cell in row.extra
    }
    for (sheet, heading), (row, column) in places.items():
        if _question(heading) is not None:
            continue
        if headings.plain(heading) in _FORM_PARTS:
            findings.ignored.append(heading)
            continue
        near = difflib.get_close_matches(identifier(heading), questions.BY_ID, n=1)
        hint = f" Did you mean {near[0]}?" if near else ""
        findings.problems.append(
            Problem(
                file=row.file,
                sheet=sheet,
                row=row.heading_row,
                column=column,
                read=heading,
                mend="No question of the health screen has this name, so its answers would be "
                f"lost. Rename the column or take it out.{hint}",
            )
        )


def _answers(row: records.Record) -> tuple[tuple[str, str], ...]:
    """Return the answers in the order of the form, whatever the order of the columns."""
    found: dict[str, str] = {}
    for heading, cell in row.extra:
        question = _question(heading)
        if question is None:
            continue
        spelt = quantities.text(cell.value)
        problems = screening.answer_problems(
            answers={question: spelt}, file=row.file, sheet=row.sheet, row=row.row
        )
        row.findings.problems += [replace(item, column=cell.column) for item in problems]
        found[question] = spelt
    return tuple((name, found[name]) for name in questions.BY_ID if name in found)


def _question(heading: str) -> str | None:
    """Return the question that a heading means: by its name or its words."""
    return _BY_WORDS.get(headings.plain(heading))
