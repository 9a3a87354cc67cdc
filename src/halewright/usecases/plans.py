"""Plans: draft one for a group, check one, save and read it as a document."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from halewright.core.people.group import Group
from halewright.core.planning import checker, problem
from halewright.core.planning.plan import Acceptance, Plan, Violation
from halewright.files import documents
from halewright.planner import solving
from halewright.planner.solving import NoPlan, Progress, Solved
from halewright.usecases import judging

MOST_SHAPES = 4
"""How many shapes of a session are tried for "choose for me" before there is no plan."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """What the checker says of a plan: open breaches, and those that the leader has accepted."""

    violations: tuple[Violation, ...]
    accepted: tuple[Acceptance, ...]


def draft(
    group: Group,
    *,
    seed: int,
    work: float | None = None,
    seconds: float | None = None,
    progress: Callable[[Progress], None] | None = None,
    last_resorts: bool = False,
) -> Solved | NoPlan:
    """Plan a block for a group, or say in words why there is none and what would help.

    The same seed and `work` give the same plan; `seconds` is a ceiling that may cut work short.
    With `last_resorts` one or two people may be given another movement of the same pattern, or
    sit out, where a station does not suit them; the plan's check names each for the leader.
    """
    ready = judging.judged(group)
    wanted, *less_wanted = (
        problem.build(
            group=group,
            catalogue=ready.catalogue,
            demands=ready.demands,
            outcomes=ready.outcomes,
            matrix=ready.matrix,
            durations=ready.durations,
            shape=shape,
            allow_last_resorts=last_resorts,
        )
        for shape in problem.shapes(group, durations=ready.durations)[:MOST_SHAPES]
    )
    return solving.solve(
        wanted,
        otherwise=less_wanted,
        seed=seed,
        work=work,
        seconds=seconds,
        progress=progress,
    )


def check(plan: Plan, group: Group) -> Checked:
    """Hold a plan against every rule, with a checker that knows nothing of how it was made."""
    ready = judging.judged(group)
    violations = checker.check(
        plan,
        group=group,
        catalogue=ready.catalogue,
        demands=ready.demands,
        outcomes=ready.outcomes,
        matrix=ready.matrix,
        durations=ready.durations,
    )
    still_open, accepted = checker.accepted(violations, plan.accepted)
    return Checked(violations=still_open, accepted=accepted)


def save(plan: Plan, path: Path) -> None:
    """Write a plan as a document, whole or not at all."""
    documents.write(path=path, text=documents.plan_text(plan))


def read(path: Path) -> Plan:
    """Read a plan; raises BadInput with what does not fit."""
    return documents.read_plan(path)
