"""A group as a folder of plain files: everything is read and checked, or nothing is."""

import shutil
import tempfile
from datetime import date
from pathlib import Path
from typing import TypeVar

from halewright.core.errors import BadInput, Problem
from halewright.core.people.group import Decision, Group, RawScreen
from halewright.core.people.kit import Band, BandLabel, MeasuredPoint
from halewright.core.people.person import Person
from halewright.files import (
    band_points,
    bands_table,
    decisions_table,
    group_toml,
    people_table,
    records,
    screens_table,
)

T = TypeVar("T")

POINTS_FOLDER = "bands"
KEPT_FOLDER = "originals"
"""Where a spreadsheet goes that an export replaces, so that its other columns are not lost."""

_TABLES = ("people", "screens", "bands", "decisions")
_ENDINGS = (".csv", ".xlsx", ".xlsm")


def read(path: Path) -> Group:
    """Return the group of a folder; raises BadInput with every problem of every file."""
    _put_back(path)
    findings = records.Findings()
    group = _read(path, findings=findings)
    if findings.problems or group is None:
        raise BadInput(tuple(findings.problems))
    return group


def examine(path: Path) -> tuple[Group | None, records.Findings]:
    """Return the group, None where there is any problem, with what was found and ignored."""
    findings = records.Findings()
    group = _read(path, findings=findings)
    return (None if findings.problems else group), findings


def write(group: Group, path: Path) -> None:
    """Write a group folder, whole or not at all; files that are not a group's stay as they are.

    The new folder is made beside the old one and takes its place when it is complete.
    """
    path = path.absolute()
    _put_back(path)
    path.parent.mkdir(parents=True, exist_ok=True)
    fresh = Path(tempfile.mkdtemp(prefix=f".{path.name}.new.", dir=path.parent))
    try:
        if path.exists():
            shutil.copytree(path, fresh, dirs_exist_ok=True)
        _write_files(group, fresh)
        fresh.chmod(path.stat().st_mode if path.exists() else 0o755)
        _swap(path, fresh=fresh)
    finally:
        if fresh.exists():
            shutil.rmtree(fresh)


def _read(path: Path, *, findings: records.Findings) -> Group | None:
    head, problems = group_toml.read(path / group_toml.FILE)
    findings.problems += problems
    starts_on = None if head is None else head.schedule.starts_on
    on = None if starts_on in (None, date.min) else starts_on
    people: tuple[Person, ...] = ()
    source = _table(path, name="people", findings=findings)
    if source is not None:
        people = people_table.read(source, file=source.name, findings=findings, on=on)
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
    _check_days(people, head=head, findings=findings)
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


def _check_days(
    people: tuple[Person, ...], *, head: group_toml.Head, findings: records.Findings
) -> None:
    """Note people who come on a day on which the group does not meet."""
    held = {meeting.day for meeting in head.schedule.meetings}
    for person in people:
        wrong = [day.value for day in person.days if held and day not in held]
        if wrong:
            findings.problems.append(
                Problem(
                    file="people",
                    column="Days",
                    read=f"{person.id}: {', '.join(wrong)}",
                    mend=f"The group meets on {', '.join(sorted(held))}. Mend the day here, or add "
                    "it to group.toml.",
                )
            )


def _write_files(group: Group, folder: Path) -> None:
    (folder / group_toml.FILE).write_text(group_toml.written(group), "utf-8")
    for name in _TABLES:
        _set_aside(folder, name=name)
    points = folder / POINTS_FOLDER
    for file in points.glob("*"):
        if file.suffix.casefold() in _ENDINGS:
            file.unlink()
    people_table.write(folder / "people.csv", group.people)
    screens_table.write(folder / "screens.csv", group.screens)
    decisions_table.write(folder / "decisions.csv", group.decisions)
    bands_table.write(folder / "bands.csv", group.bands)
    band_points.write(points, group.bands)


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


def _before(path: Path) -> Path:
    return path.with_name(f".{path.name}.before")


def _swap(path: Path, *, fresh: Path) -> None:
    """Put the complete new folder in the old one's place; a stop between is mended by `read`."""
    before = _before(path)
    if path.exists():
        path.rename(before)
    try:
        fresh.rename(path)
    except OSError:
        if before.exists():
            before.rename(path)
        raise
    if before.exists():
        shutil.rmtree(before)


def _put_back(path: Path) -> None:
    """Mend a swap that was cut short: the old folder returns, or goes if the new one is there."""
    before = _before(path.absolute())
    if before.exists() and not path.exists():
        before.rename(path)
    elif before.exists():
        shutil.rmtree(before)
