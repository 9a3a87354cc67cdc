"""Groups: look through a spreadsheet, load and save a group folder, bring people in."""

from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from halewright.core.errors import BadInput, Problem
from halewright.core.people.group import Group
from halewright.core.people.person import Person
from halewright.files import group_folder, people_table, records


@dataclass(frozen=True, slots=True, kw_only=True)
class ImportReport:
    """What a look through a spreadsheet of people came to; with problems nothing is imported."""

    people: tuple[Person, ...]
    problems: tuple[Problem, ...]
    ignored_columns: tuple[str, ...]


def examine(path: Path, *, on: date | None = None) -> ImportReport:
    """Read a spreadsheet of people without saving anything.

    `on` is the day on which ages must be plausible; None leaves that check out.
    """
    findings = records.Findings()
    people = people_table.read(path, file=path.name, findings=findings, on=on)
    return ImportReport(
        people=() if findings.problems else people,
        problems=tuple(findings.problems),
        ignored_columns=tuple(dict.fromkeys(findings.ignored)),
    )


def load(folder: Path) -> Group:
    """Return the group of a folder; raises BadInput with every problem of every file."""
    return group_folder.read(folder)


def save(*, group: Group, folder: Path) -> None:
    """Write a group to its folder, whole or not at all."""
    group_folder.write(group, folder)


def import_into_folder(*, path: Path, folder: Path) -> ImportReport:
    """Bring the people of a spreadsheet into a group folder and save it, whole or not at all.

    Somebody with an id that the folder has is replaced, others are added; nobody is taken out.
    Raises BadInput with every problem; nothing has been saved then.
    """
    group = load(folder)
    report = examine(path, on=group.schedule.starts_on)
    if report.problems:
        raise BadInput(report.problems)
    coming = {person.id: person for person in report.people}
    stay = tuple(coming.pop(person.id, person) for person in group.people)
    save(group=replace(group, people=(*stay, *coming.values())), folder=folder)
    return report
