"""A group as a folder of plain files: everything is read and checked, or nothing is."""

from datetime import date
from pathlib import Path

from halewright.core.errors import BadInput, Problem
from halewright.core.people.group import Decision, Group, RawScreen
from halewright.core.people.kit import Band, BandLabel, MeasuredPoint
from halewright.core.people.person import Person, Weekday
from halewright.files import (
    band_points,
    bands_table,
    decisions_table,
    group_toml,
    people_table,
    records,
    saves,
    screens_table,
)

POINTS_FOLDER = "bands"
KEPT_FOLDER = "originals"
"""Where a spreadsheet goes that an export replaces, so that its other columns are not lost."""

_TABLES = ("people", "screens", "bands", "decisions")
_ENDINGS = (".csv", ".xlsx", ".xlsm")


def read(path: Path) -> Group:
    """Return the group of a folder; raises BadInput with every problem of every file."""
    group, findings = examine(path)
    if group is None:
        raise BadInput(tuple(findings.problems))
    return group


def examine(path: Path) -> tuple[Group | None, records.Findings]:
    """Return the group, None where there is any problem, with what was found and ignored."""
    findings = records.Findings()
    with saves.LOCK:
        saves.finish(path, tidy=_tidy)
        group = _read(path, findings=findings)
    return (None if findings.problems else group), findings


def write(group: Group, path: Path) -> None:
    """Write a group folder, whole or not at all; files that are not a group's stay as they are.

    A workbook that a csv file replaces is kept among the originals. With nothing changed, raises
    BadInput where the folder could not be read again (a stature of 3 m, say), and OSError where
    it cannot be written.
    """

    def fill(folder: Path) -> None:
        (folder / group_toml.FILE).write_text(group_toml.written(group), "utf-8")
        people_table.write(folder / "people.csv", group.people)
        screens_table.write(folder / "screens.csv", group.screens)
        decisions_table.write(folder / "decisions.csv", group.decisions)
        bands_table.write(folder / "bands.csv", group.bands)
        band_points.write(folder / POINTS_FOLDER, group.bands)
        findings = records.Findings()
        _read(folder, findings=findings)
        if findings.problems:
            raise BadInput(tuple(findings.problems))

    saves.commit(path, fill=fill, tidy=_tidy)


def _read(path: Path, *, findings: records.Findings) -> Group | None:
    head, problems = group_toml.read(path / group_toml.FILE)
    findings.problems += problems
    starts_on = None if head is None else head.schedule.starts_on
    on = None if starts_on in (None, date.min) else starts_on
    people: tuple[Person, ...] = ()
    source = _table(path, name="people", findings=findings)
    if source is not None:
        people = people_table.read(
            source, file=source.name, findings=findings, on=on, meets=_meeting_days(head)
        )
    elif not any(path.glob("people.*")):
        mend = "Add people.csv or people.xlsx with a row for each person."
        findings.problems.append(Problem(file="people.csv", read="no such file", mend=mend))
    known = tuple((person.id, person.preferred_name) for person in people)
    screens: tuple[RawScreen, ...] = ()
    decisions: tuple[Decision, ...] = ()
    if (source := _table(path, name="screens", findings=findings)) is not None:
        screens = screens_table.read(source, file=source.name, people=known, findings=findings)
    if (source := _table(path, name="decisions", findings=findings)) is not None:
        decisions = decisions_table.read(source, file=source.name, people=known, findings=findings)
    bands = _bands(path, findings=findings)
    if head is None:
        return None
    return Group(
        name=head.name,
        venue=head.venue,
        schedule=head.schedule,
        goals=head.goals,
        people=people,
        screens=screens,
        decisions=decisions,
        bands=bands,
        local_rules=head.local_rules,
        seated_only=head.seated_only,
    )


def _meeting_days(head: group_toml.Head | None) -> frozenset[Weekday]:
    return frozenset(() if head is None else (item.day for item in head.schedule.meetings))


def _table(path: Path, *, name: str, findings: records.Findings) -> Path | None:
    """Return the one file of a table; two that hold the same are a problem, none is None."""
    found = [path / f"{name}{ending}" for ending in _ENDINGS if (path / f"{name}{ending}").exists()]
    if len(found) > 1:
        names = " and ".join(item.name for item in found)
        findings.problems.append(
            Problem(
                file=found[1].name,
                read=names,
                mend=f"Keep one of {names}: it is not plain which of them counts.",
            )
        )
    return found[0] if len(found) == 1 else None


def _bands(path: Path, *, findings: records.Findings) -> tuple[Band, ...]:
    source = _table(path, name="bands", findings=findings)
    bands = () if source is None else bands_table.read(source, file=source.name, findings=findings)
    points: dict[BandLabel, tuple[MeasuredPoint, ...]] = {}
    for file in sorted((path / POINTS_FOLDER).glob("*")):
        if file.suffix.casefold() not in _ENDINGS or file.name.startswith((".", "~")):
            continue
        name = f"{POINTS_FOLDER}/{file.name}"
        label, read_points = band_points.read(file, file=name, bands=bands, findings=findings)
        if label is not None and label in points:
            mend = f"Band {label} has readings in two files. Keep one."
            findings.problems.append(Problem(file=name, read=file.stem, mend=mend))
        elif label is not None:
            points[label] = read_points
    return bands_table.with_points(bands, points)


def _tidy(folder: Path, fresh: Path) -> None:
    """Take away what the new files replace: workbooks among the originals, older readings."""
    for name in _TABLES:
        _set_aside(folder, name=name)
    for file in (folder / POINTS_FOLDER).glob("*"):
        if file.suffix.casefold() in _ENDINGS and not (fresh / POINTS_FOLDER / file.name).exists():
            file.unlink()


def _set_aside(folder: Path, *, name: str) -> None:
    """Move a workbook that a csv file is about to replace among the originals."""
    for ending in _ENDINGS[1:]:
        source = folder / f"{name}{ending}"
        if not source.exists():
            continue
        kept = folder / KEPT_FOLDER
        kept.mkdir(exist_ok=True)
        target, number = kept / source.name, 2
        while target.exists():
            target, number = kept / f"{name}-{number}{ending}", number + 1
        source.rename(target)
