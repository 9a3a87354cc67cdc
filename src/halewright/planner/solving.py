"""From a problem to a plan: model, exact order, whole sessions, with visible progress."""

import time
from collections.abc import Callable
from dataclasses import dataclass

from ortools.sat.python import cp_model

from halewright.core.catalogue.movement import MovementId
from halewright.core.planning import assembly
from halewright.core.planning.plan import Plan
from halewright.core.planning.problem import REST_MS, Cell, Problem
from halewright.core.session import layout
from halewright.planner import model as models
from halewright.planner import order, reasons
from halewright.planner.model import Model

DEFAULT_WORK = 8
"""Solver work units; on a 2-core machine of 2026 about as many seconds."""

GOOD_ENOUGH_RATIO = 0.01
"""Without a limit of their own people get a plan proven to be within this of the best."""

WORKERS_COUNT = 2
"""Fixed, because another number gives another plan."""

_MOST_MENDS = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """How far planning is: words for a person, and a share of the whole from 0 to 1."""

    words: str
    share: float


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


Tell = Callable[[Progress], None]
Orders = dict[int, tuple[MovementId, ...]]


def solve(
    problem: Problem,
    *,
    seed: int,
    work: int | None = None,
    seconds: float | None = None,
    progress: Tell | None = None,
) -> Solved | NoPlan:
    """Return a plan for a problem, or why there is none.

    `work` limits the solver's own count of work, so the same seed and work give the same plan on
    any run; `seconds` is a ceiling on wall time that may cut it short and make it differ.
    """
    began_s = time.monotonic()
    tell = progress or (lambda _: None)
    tell(Progress(words="Looking for what suits everybody", share=0.02))
    known = reasons.at_once(problem)
    if known is not None:
        return NoPlan(reason=known.words, ways_out=known.ways_out)
    found = _Search(problem, seed=seed, work=work, seconds=seconds, tell=tell).run()
    if found is None:
        tell(Progress(words="No plan keeps every rule; looking for the reason", share=0.9))
        why = reasons.by_core(problem, seed=seed)
        return NoPlan(reason=why.words, ways_out=why.ways_out)
    orders, bound, optimal = found
    tell(Progress(words="Writing out the sessions", share=0.97))
    plan = assembly.plan(problem, orders=orders, seed=seed, bound=bound)
    return Solved(
        plan=plan,
        seconds=time.monotonic() - began_s,
        optimal=optimal and plan.bound == plan.objective,
    )


class _Search:
    """Solve, put each session in its exact order, mend the model where it was too hopeful."""

    def __init__(
        self,
        problem: Problem,
        *,
        seed: int,
        work: int | None,
        seconds: float | None,
        tell: Tell,
    ) -> None:
        self._problem = problem
        self._seed = seed
        self._gap_ratio = GOOD_ENOUGH_RATIO if work is None else 0.0
        self._work_left = float(DEFAULT_WORK if work is None else work)
        self._ends_s = None if seconds is None else time.monotonic() + seconds
        self._tell = tell

    def run(self) -> tuple[Orders, int | None, bool] | None:
        """Return orders for every cell, the proven bound and whether the search ended itself."""
        model = models.build(self._problem)
        bound: int | None = None
        best: tuple[int, Orders] | None = None
        for attempt in range(_MOST_MENDS):
            answer = self._solve(model, attempt=attempt)
            if answer is None:
                break
            solver, optimal, sets = answer
            lower = round(solver.best_objective_bound)
            bound = lower if bound is None else max(bound, lower)
            orders = self._ordered(model, sets)
            if orders is None:
                continue
            cost = assembly.plan(self._problem, orders=orders, seed=0, bound=None).objective
            if best is None or cost < best[0]:
                best = cost, orders
            good_enough = cost - bound <= self._gap_ratio * cost
            if not optimal or good_enough or self._work_left <= 0:
                break
            self._tell(Progress(words="Refining the order of stations", share=0.9))
        return None if best is None else (best[1], bound, best[0] == bound)

    def _solve(
        self, model: Model, *, attempt: int
    ) -> tuple[cp_model.CpSolver, bool, dict[int, tuple[MovementId, ...]]] | None:
        solver = cp_model.CpSolver()
        solver.parameters.random_seed = self._seed
        solver.parameters.num_workers = WORKERS_COUNT
        # Interleaving makes two workers reproducible, which plain parallel search is not.
        solver.parameters.interleave_search = True
        solver.parameters.max_deterministic_time = max(1.0, self._work_left)
        solver.parameters.relative_gap_limit = self._gap_ratio
        if self._ends_s is not None:
            solver.parameters.max_time_in_seconds = max(0.2, self._ends_s - time.monotonic())
        seen = _Seen(tell=self._tell, work=self._work_left, attempt=attempt)
        status = solver.solve(model.cp, seen)
        self._work_left -= solver.response_proto.deterministic_time
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return None
        sets = {
            cell.index: tuple(
                movement
                for movement in cell.choices
                if solver.boolean_value(model.chosen[cell.index, movement])
            )
            for cell in self._problem.cells
        }
        return solver, status == cp_model.OPTIMAL, sets

    def _ordered(self, model: Model, sets: dict[int, tuple[MovementId, ...]]) -> Orders | None:
        """Order each cell exactly; where that fails or costs more, tell the model and say so."""
        orders: Orders = {}
        for cell in self._problem.cells:
            chosen = sets[cell.index]
            found = self._best(cell, chosen)
            literals = [model.chosen[cell.index, movement] for movement in chosen]
            if found is None or not self._fits(cell, found[0]):
                model.cp.add_bool_or([literal.negated() for literal in literals])
                continue
            orders[cell.index] = found[0]
            missing = len(literals) - sum(literals)
            model.cp.add(model.changeover[cell.index] >= found[1] - found[1] * missing)
        return orders if len(orders) == len(self._problem.cells) else None

    def _best(
        self, cell: Cell, chosen: tuple[MovementId, ...]
    ) -> tuple[tuple[MovementId, ...], int] | None:
        problem = self._problem
        found = order.best(
            [problem.catalogue[movement] for movement in chosen],
            rounds=tuple(problem.rounds_of(meet) for meet in cell.meets),
            rest_ms=REST_MS,
            durations=problem.durations,
        )
        if found is None:
            return None
        return tuple(chosen[index] for index in found.indices), found.cost

    def _fits(self, cell: Cell, chosen: tuple[MovementId, ...]) -> bool:
        problem = self._problem
        for meet in cell.meets:
            outline = assembly.outline(problem, cell=cell, meet=meet, order=chosen)
            needed = layout.session_ms(
                outline=outline, catalogue=problem.catalogue, durations=problem.durations
            )
            usable = layout.usable_ms(slot_ms=outline.slot_ms, durations=problem.durations)
            if needed > usable:
                return False
        return True


class _Seen(cp_model.CpSolverSolutionCallback):
    """Tells a person of each better plan."""

    def __init__(self, *, tell: Tell, work: float, attempt: int) -> None:
        super().__init__()
        self._tell = tell
        self._work = max(1.0, work)
        self._attempt = attempt

    def on_solution_callback(self) -> None:
        """Tell of the plan just found."""
        points = round(self.objective_value)
        least = round(self.best_objective_bound)
        share = min(0.9, 0.05 + 0.85 * self.deterministic_time / self._work)
        words = f"A plan of {points} points; no plan has fewer than {least}"
        self._tell(Progress(words=words, share=max(share, 0.9 if self._attempt else 0.0)))
