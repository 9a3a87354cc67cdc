"""The catalogue: check it whole, or check files that somebody is writing."""

from collections.abc import Iterator
from dataclasses import dataclass
from importlib import resources
from pathlib import Path

from halewright.core.catalogue import checks
from halewright.core.catalogue.movement import Catalogue, Movement
from halewright.core.errors import Problem
from halewright.core.mechanics import apart, attribution, pose_checks
from halewright.files import movements


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """How many movements were looked at, and everything that is wrong with them."""

    movements: int
    problems: tuple[Problem, ...]


def check_shipped() -> Found:
    """Check every movement that ships: shape, meaning and poses."""
    folder = resources.files("halewright") / "data" / "movements"
    catalogue, problems = movements.read_folder(folder)
    return Found(
        movements=len(catalogue),
        problems=(*problems, *checks.check(catalogue), *_poses(catalogue)),
    )


def check_files(paths: tuple[Path, ...]) -> Found:
    """Check some files as if they stood in the catalogue, and report only on them."""
    catalogue = dict(movements.shipped())
    problems: list[Problem] = []
    read: list[Movement] = []
    for path in paths:
        answer = movements.read(path)
        if isinstance(answer, Movement):
            catalogue[answer.id] = answer
            read.append(answer)
        else:
            problems.extend(answer)
    names = {path.name for path in paths}
    told = (*checks.check(catalogue), *_poses({movement.id: movement for movement in read}))
    problems += [problem for problem in told if problem.file in names]
    return Found(movements=len(paths), problems=tuple(problems))


def _poses(catalogue: Catalogue) -> Iterator[Problem]:
    for movement in catalogue.values():
        posed = tuple(pose_checks.check(movement))
        yield from posed
        # What cannot be posed cannot be measured or loaded either: its own problems come first.
        if not posed:
            yield from apart.check(movement)
            yield from attribution.check(movement)
