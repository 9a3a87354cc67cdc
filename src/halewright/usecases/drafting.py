"""The planner as kept blocks ask for it: a plan or an error in words, progress in words."""

from dataclasses import replace

from halewright.core.errors import HalewrightError
from halewright.core.people.group import Group
from halewright.core.planning.plan import Plan, Violation
from halewright.planner import solving
from halewright.usecases import plans
from halewright.usecases.blocks import Progress


class NoPlanExists(HalewrightError):
    """There is no plan that is safe for everybody; `ways_out` say what would help."""

    def __init__(self, *, reason: str, ways_out: tuple[str, ...]) -> None:
        """Say why, and what would help."""
        self.ways_out = ways_out
        super().__init__(" ".join((reason, *(f"What would help: {way}" for way in ways_out))))


def draft(group: Group, *, seed: int, progress: Progress) -> Plan:
    """Return a plan for the group; raises NoPlanExists.

    Where no plan keeps every rule, one with last resorts is proposed: each is an open breach that
    the leader must accept by name before the plan is clean.
    """
    answer = _draft(group, seed=seed, progress=progress, last_resorts=False)
    if isinstance(answer, solving.NoPlan):
        progress("No plan keeps every rule; looking for one with last resorts to decide on", 0.5)
        resorted = _draft(group, seed=seed, progress=progress, last_resorts=True)
        if isinstance(resorted, solving.NoPlan):
            raise NoPlanExists(reason=answer.reason, ways_out=tuple(answer.ways_out))
        return resorted.plan
    return answer.plan


def _draft(
    group: Group, *, seed: int, progress: Progress, last_resorts: bool
) -> solving.Solved | solving.NoPlan:
    return plans.draft(
        group,
        seed=seed,
        progress=lambda step: progress(step.words, step.share),
        last_resorts=last_resorts,
    )


def check(plan: Plan, group: Group) -> tuple[Violation, ...]:
    """Return every breach of the plan, those that were accepted among them."""
    return plans.check(replace(plan, accepted=()), group).violations
