"""From a problem to a plan: model, exact order, whole sessions, with visible progress."""

import time
from collections.abc import Sequence
from dataclasses import dataclass

from halewright.core.planning import assembly
from halewright.core.planning.plan import Plan
from halewright.core.planning.problem import Problem
from halewright.planner import clash, reasons
from halewright.planner.model import Forbidden
from halewright.planner.search import Ended, Limits, Progress, Search, Tell

__all__ = ["NoPlan", "Progress", "Solved", "solve"]

DEFAULT_WORK = 5
"""Solver work units; on a 2-core machine of 2026 about twice as many seconds."""

GOOD_ENOUGH_RATIO = 0.01
"""Without a limit of their own people get a plan proven to be within this of the best."""

_SHORT_WORK = 2.0
"""For telling whether a change would help."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Solved:
    """A plan, the seconds it took, and whether nothing better of its form exists."""

    plan: Plan
    seconds: float  # wall time: for the person who waited, never part of the plan
    optimal: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class NoPlan:
    """Why there is no plan, in a leader's words, and the smallest changes that would help."""

    reason: str
    ways_out: tuple[str, ...]


def solve(
    problem: Problem,
    *,
    seed: int,
    otherwise: Sequence[Problem] = (),
    work: float | None = None,
    seconds: float | None = None,
    progress: Tell | None = None,
) -> Solved | NoPlan:
    """Return a plan for a problem, or why there is none.

    `otherwise` are less wanted shapes of the same block, each tried where those before it have no
    plan. `work` limits the solver's own count of work, so the same seed and work give the same
    plan on any run; `seconds` is a ceiling on wall time that may cut it short and make it differ.
    """
    began_s = time.monotonic()
    tell = progress or (lambda _: None)
    limits = Limits(
        seed=seed,
        work=float(DEFAULT_WORK if work is None else work),
        gap_ratio=GOOD_ENOUGH_RATIO if work is None else 0.0,
        ends_s=None if seconds is None else began_s + seconds,
    )
    first: Search | None = None
    for each in (problem, *otherwise):
        tell(Progress(words=f"Looking for what suits everybody: {_shape_words(each)}", share=0.02))
        if reasons.at_once(each) is not None:
            continue
        search = Search(each, limits=limits, tell=tell)
        ended = search.run()
        if search.best is not None:
            tell(Progress(words="Writing out the sessions", share=0.97))
            plan = assembly.plan(each, orders=search.best.orders, seed=seed, bound=search.bound)
            optimal = plan.bound == plan.objective
            return Solved(plan=plan, seconds=time.monotonic() - began_s, optimal=optimal)
        if ended is not Ended.IMPOSSIBLE:
            return _cut_short(ended)
        first = first or (search if each is problem else None)
    tell(Progress(words="No plan keeps every rule; looking for the reason", share=0.9))
    return _explained(problem, forbidden=first.forbidden if first else (), seed=seed)


def _shape_words(problem: Problem) -> str:
    rounds = "1 round" if problem.rounds == 1 else f"{problem.rounds} rounds"
    return f"{rounds} of {problem.stations} stations"


def _cut_short(ended: Ended) -> NoPlan:
    limit = "time" if ended is Ended.TIME_UP else "work"
    return NoPlan(
        reason=f"No plan was found in the {limit} allowed. That does not mean that there is none.",
        ways_out=(f"Allow more {limit}.", "Ask for one round fewer, or for a longer slot."),
    )


def _explained(problem: Problem, *, forbidden: Forbidden, seed: int) -> NoPlan:
    """Say why there is no plan; last resorts and bands are named only where they would help."""

    def works(other: Problem) -> bool:
        return _works(other, seed=seed)

    resorts = reasons.last_resorts(problem, works=works)
    known = reasons.at_once(problem)
    if known is not None:
        return NoPlan(reason=known.words, ways_out=(*resorts, *known.ways_out))
    why = clash.of(problem, forbidden=forbidden, seed=seed)
    proven = (*resorts, *reasons.more_bands(problem, works=works))
    others = why.ways_out if why.sure or not proven else ()
    return NoPlan(reason=why.words, ways_out=(*proven, *others))


def _works(problem: Problem, *, seed: int) -> bool:
    """Whether a short search finds any plan at all."""
    limits = Limits(seed=seed, work=_SHORT_WORK, gap_ratio=1.0, ends_s=None)
    search = Search(problem, limits=limits, tell=lambda _: None)
    search.run()
    return search.best is not None
