"""Decisions on ask-first flags in a table: who decided what about whom, and when."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from halewright.core.people.group import Decision
from halewright.core.people.person import PersonId
from halewright.files import choices, headings, quantities, records, screens_table, tables

FIELDS = (
    headings.Field(key="person", names=("Person", "Id", "Person id", "Participant")),
    headings.Field(key="flag", names=("Flag", "Question", "Ask first", "About")),
    headings.Field(key="decision", names=("Decision", "Go ahead", "Answer", "Decided")),
    headings.Field(key="by", names=("By", "Decided by", "Who", "Told by")),
    headings.Field(key="on", names=("On", "Date", "Decided on", "When")),
    headings.Field(key="note", names=("Note", "Notes", "Comments", "Why"), joins=True),
)

_NEEDED = (
    ("flag", "Name the ask-first flag that was decided, as the screen shows it."),
    ("decision", "Write go ahead or wait."),
    ("by", "Write who decided: a decision without a name does not count."),
    ("on", "Write the date of the decision."),
)


def read(
    path: Path,
    *,
    file: str,
    people: Sequence[tuple[PersonId, str]],
    findings: records.Findings,
) -> tuple[Decision, ...]:
    """Return the decisions of a file; one without flag, decision, name or date is a problem."""
    rows = records.read(
        path,
        file=file,
        fields=FIELDS,
        required=("person", *(key for key, _ in _NEEDED)),
        findings=findings,
    )
    found = []
    for row in rows:
        person = screens_table.known_person(row, people=people)
        flag = screens_table.identifier(row.take("flag", quantities.text, blank=""))
        ahead = row.take("decision", choices.go_ahead, blank=None)
        by = row.take("by", quantities.text, blank="")
        on: date | None = row.take("on", quantities.day, blank=None)
        for key, mend in _NEEDED:
            if key in row.columns and key not in row.cells:
                row.problem(key=key, read="", mend=mend)
        if person is not None and ahead is not None and on is not None:
            found.append(
                Decision(
                    person=person,
                    flag=flag,
                    go_ahead=ahead,
                    by=by,
                    on=on,
                    note=row.joined("note"),
                )
            )
    return tuple(found)


def write(path: Path, decisions: Sequence[Decision]) -> None:
    """Write decisions as csv."""
    tables.write_csv(
        path,
        headings=("Person", "Flag", "Decision", "By", "On", "Note"),
        rows=[
            (
                item.person,
                item.flag,
                "go ahead" if item.go_ahead else "wait",
                item.by,
                item.on.isoformat(),
                item.note,
            )
            for item in decisions
        ],
    )
