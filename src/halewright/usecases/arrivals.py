"""What is sent from a browser: a group as a zip or as files, people as a spreadsheet."""

import io
import tempfile
import zipfile
from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path, PurePosixPath

from halewright.core.errors import BadInput, Problem
from halewright.core.people.group import Group
from halewright.files import group_folder
from halewright.usecases import groups

MOST_BYTES = 20 * 1024 * 1024
"""A whole group is far below this; more is a mistake or a trap."""
MOST_FILES = 200
_TABLES = ("group", "people", "screens", "decisions", "bands")
_POINTS = group_folder.POINTS_FOLDER


@dataclass(frozen=True, slots=True, kw_only=True)
class Sent:
    """One file as it was sent; `name` may hold a folder, as in a zip."""

    name: str
    content: bytes


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrival:
    """A group with the people of a spreadsheet brought in, and what was passed over."""

    group: Group
    people_count: int
    ignored_columns: tuple[str, ...]


def group_from(sent: Iterable[Sent]) -> Group:
    """Return the group that was sent as one zip or as its files; raises BadInput.

    Every problem of every file is told at once, and nothing is kept of what was sent.
    """
    files = tuple(sent)
    if len(files) == 1 and files[0].name.casefold().endswith(".zip"):
        files = _unzipped(files[0])
    with tempfile.TemporaryDirectory(prefix="halewright-") as folder:
        _lay_out(files, folder=Path(folder))
        return groups.load(Path(folder))


def people_into(group: Group, *, sent: Sent) -> Arrival:
    """Return a group with the people of a spreadsheet; raises BadInput with every problem.

    Somebody with an identifier that the group has is replaced, others are added.
    """
    with tempfile.TemporaryDirectory(prefix="halewright-") as folder:
        path = Path(folder) / (PurePosixPath(sent.name.replace("\\", "/")).name or "people.csv")
        path.write_bytes(sent.content)
        report = groups.examine(path, on=group.schedule.starts_on)
    if report.problems:
        raise BadInput(report.problems)
    coming = {person.id: person for person in report.people}
    stay = tuple(coming.pop(person.id, person) for person in group.people)
    return Arrival(
        group=replace(group, people=(*stay, *coming.values())),
        people_count=len(report.people),
        ignored_columns=report.ignored_columns,
    )


def _unzipped(sent: Sent) -> tuple[Sent, ...]:
    """Return the files of a zip in memory, by their place beside group.toml."""
    try:
        with zipfile.ZipFile(io.BytesIO(sent.content)) as archive:
            items = [item for item in archive.infolist() if not item.is_dir()]
            if len(items) > MOST_FILES or sum(item.file_size for item in items) > MOST_BYTES:
                raise _refused(sent, read="too much in it", mend="Zip only the group's folder.")
            files = [Sent(name=item.filename, content=archive.read(item)) for item in items]
    except (zipfile.BadZipFile, RuntimeError, NotImplementedError, EOFError) as error:
        raise _refused(
            sent, read="a zip that cannot be opened", mend="Zip the folder again, without password."
        ) from error
    heads = [PurePosixPath(file.name) for file in files if file.name.endswith("group.toml")]
    if not heads:
        raise _refused(
            sent, read="no group.toml", mend="Zip the folder that holds group.toml and people.csv."
        )
    root = min(heads, key=lambda path: len(path.parts)).parent
    return tuple(
        Sent(name=str(PurePosixPath(file.name).relative_to(root)), content=file.content)
        for file in files
        if PurePosixPath(file.name).is_relative_to(root)
    )


def _lay_out(files: tuple[Sent, ...], *, folder: Path) -> None:
    """Write files into a folder of our own; only the last two parts of a name are ever used.

    A file that is none of a group's tables holds the readings of a band.
    """
    (folder / _POINTS).mkdir()
    for file in files:
        path = PurePosixPath(file.name.replace("\\", "/"))
        if path.name in {"", ".", ".."} or path.name.startswith((".", "~")):
            continue
        belongs = path.stem.casefold() in _TABLES and path.parent.name != _POINTS
        (folder / path.name if belongs else folder / _POINTS / path.name).write_bytes(file.content)


def _refused(sent: Sent, *, read: str, mend: str) -> BadInput:
    return BadInput((Problem(file=sent.name, read=read, mend=mend),))
