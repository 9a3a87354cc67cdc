"""Demo groups: invented people in invented places, to try everything with."""

import shutil
from dataclasses import dataclass
from importlib import resources
from pathlib import Path

from halewright.usecases import groups


@dataclass(frozen=True, slots=True, kw_only=True)
class DemoGroup:
    """A demo group in a folder of the person's own, which they may change."""

    name: str
    folder: Path
    people: int
    weeks: int
    sessions_per_week: int


def names() -> tuple[str, ...]:
    """Return the folder names of the demo groups that ship."""
    shipped = resources.files("halewright") / "data" / "demo"
    return tuple(sorted(item.name for item in shipped.iterdir() if (item / "group.toml").is_file()))


def listing(writable_root: Path) -> tuple[DemoGroup, ...]:
    """Copy the demo groups where they can be changed, keep copies that are there, list them.

    Raises BadInput when a copy that the person changed can no longer be read.
    """
    return tuple(_copied(name, writable_root=writable_root) for name in names())


def _copied(name: str, *, writable_root: Path) -> DemoGroup:
    folder = writable_root.absolute() / name
    if not folder.exists():
        folder.parent.mkdir(parents=True, exist_ok=True)
        with resources.as_file(resources.files("halewright") / "data" / "demo" / name) as shipped:
            shutil.copytree(shipped, folder)
    group = groups.load(folder)
    return DemoGroup(
        name=group.name,
        folder=folder,
        people=len(group.people),
        weeks=group.schedule.weeks,
        sessions_per_week=len(group.schedule.meetings),
    )
