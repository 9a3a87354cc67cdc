"""Health screens in a table: a row for each screen, a column for each question."""

import re
from collections.abc import Sequence
from datetime import date
from pathlib import Path

from halewright.core.people.group import RawScreen
from halewright.core.people.person import PersonId
from halewright.files import choices, headings, quantities, records, tables

FIELDS = (
    headings.Field(key="person", names=("Person", "Id", "Person id", "Participant", "Ref")),
    headings.Field(key="on", names=("Answered on", "Date", "Screened on", "Screen date",
                                    "Date of screen", "Completed on", "Date answered")),
    headings.Field(key="by", names=("Completed by", "By", "Filled in by", "Answered by")),
)  # fmt: skip

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
    latest: dict[PersonId, RawScreen] = {}
    for row in rows:
        person = known_person(row, people=people)
        screen = RawScreen(
            person=person or PersonId(""),
            answered_on=row.take("on", quantities.day, blank=None),
            completed_by=row.take("by", choices.needs, blank=""),
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


def _answers(row: records.Record) -> tuple[tuple[str, str], ...]:
    """Return the answers by question, sorted so that the order of columns means nothing."""
    found = {_question(heading): quantities.text(cell.value) for heading, cell in row.extra}
    return tuple(sorted(found.items()))


def _question(heading: str) -> str:
    return re.sub(r"[^a-z0-9]+", "_", heading.casefold()).strip("_")
