"""The search for a plan: solve, put each session in its exact order, mend the model, again."""

import math
import time
from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum, auto

from ortools.sat.python import cp_model

from halewright.core.catalogue.movement import MovementId
from halewright.core.planning import assembly
from halewright.core.planning.problem import REST_MS, Cell, Problem
from halewright.planner import model as models
from halewright.planner import order, polish, room
from halewright.planner.model import Model
from halewright.planner.order import Kinds, Order

WORKERS_COUNT = 2
"""Fixed, because another number gives another plan."""

_LEAST_WORK = 0.01
"""What an attempt counts for at least, so that every search ends."""

FIRST_SHARE = 0.4
"""Of the work, for the block as a whole; the rest is for a few cells at a time, which learns what
the order of stations truly costs."""

_MOST_REPAIRS = 8
"""How often cells without an order are chosen anew before the search goes on without."""

_BOUND_ROUNDING = 1e-6
"""Objectives are whole points; the solver tells its bound as a floating number."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """How far planning is: words for a person, and a share of the whole from 0 to 1."""

    words: str
    share: float


Tell = Callable[[Progress], None]
Orders = dict[int, tuple[MovementId, ...]]


class Ended(Enum):
    """How a search came to its end."""

    DONE = auto()
    IMPOSSIBLE = auto()
    WORK_UP = auto()
    TIME_UP = auto()


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """What ends a search: work, how good is good enough, and a time on the monotonic clock."""

    seed: int
    work: float
    gap_ratio: float
    ends_s: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Best:
    """The best plan yet, with its true cost."""

    cost: int
    orders: Orders


class Search:
    """Solve, put each session in its exact order, mend the model where it was too hopeful.

    `forbidden` holds the kinds of stations that no order can hold together.
    """

    def __init__(self, problem: Problem, *, limits: Limits, tell: Tell) -> None:
        self.best: Best | None = None
        self.bound = 0  # no part of the objective is below nothing
        self.forbidden: list[tuple[int, Kinds]] = []
        self._problem = problem
        self.limits = limits
        self._tell = tell
        self._work_left = limits.work
        self._share = 0.0
        self._told: set[tuple[int, Kinds]] = set()
        self._known: dict[tuple[int, tuple[MovementId, ...]], Order | None] = {}

    def run(self) -> Ended:
        """Search until nothing better is left to find, or a limit is met."""
        model = models.build(self._problem)
        part = FIRST_SHARE * self.limits.work
        while self._work_left > 0 and not self._is_late():
            solver, status = self._solve(model, work=part)
            if status == cp_model.INFEASIBLE:
                return Ended.IMPOSSIBLE
            if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
                if self._begin(model) == cp_model.INFEASIBLE:
                    return Ended.IMPOSSIBLE
                continue
            lower = math.ceil(solver.best_objective_bound - _BOUND_ROUNDING)
            self.bound = max(self.bound, lower)
            model.hint(solver)
            self._take_mended(model, self._sets(model, solver))
            self._say(Progress(words="Refining the order of stations", share=self._share))
            self._polish(model)
            if self._is_good_enough():
                return Ended.DONE
            part = self._work_left
        return Ended.TIME_UP if self._is_late() else Ended.WORK_UP

    def _take_mended(self, model: Model, sets: Orders) -> None:
        """Take stations, choosing anew for the cells that no order can hold."""
        for _ in range(_MOST_REPAIRS):
            self._take(model, sets)
            stuck = tuple(
                cell
                for cell in self._problem.cells
                if self._ordered(cell, sets[cell.index]) is None
            )
            if not stuck or self._is_late():
                return
            kept = {index: frozenset(chosen) for index, chosen in sets.items()}
            found, work = polish.step(
                model, free=stuck, kept=kept, below=None, seed=self.limits.seed
            )
            self._work_left -= max(_LEAST_WORK, work)
            if found is None:
                return
            sets = self._in_order(found)

    def _polish(self, model: Model) -> None:
        """Choose a few cells anew at a time, until no such choice is better or a limit is met."""
        waiting = list(polish.neighbourhoods(self._problem))
        tried = 0
        while self.best is not None and tried < len(waiting):
            if self._work_left <= 0 or self._is_late() or self._is_good_enough():
                return
            kept = {index: frozenset(order) for index, order in self.best.orders.items()}
            cost = self.best.cost
            found, work = polish.step(
                model, free=waiting[0], kept=kept, below=cost, seed=self.limits.seed
            )
            self._work_left -= max(_LEAST_WORK, work)
            if found is not None:
                self._take(model, self._in_order(found))
            if found is None:
                waiting.append(waiting.pop(0))
                tried += 1
            elif self.best.cost < cost:
                tried = 0
                self._tell_best()

    def _tell_best(self) -> None:
        if self.best is None:
            return
        share = 1 - self._work_left / self.limits.work
        words = _found_words(self.best.cost, self.bound)
        self._say(Progress(words=words, share=0.05 + 0.9 * share))

    def _sets(self, model: Model, solver: cp_model.CpSolver) -> Orders:
        """Return the stations that the solver chose for each cell, not yet in order."""
        return {
            cell.index: tuple(
                each
                for each in cell.choices
                if solver.boolean_value(model.chosen[cell.index, each])
            )
            for cell in self._problem.cells
        }

    def _in_order(self, found: polish.Chosen) -> Orders:
        return {
            cell.index: tuple(each for each in cell.choices if each in found[cell.index])
            for cell in self._problem.cells
        }

    def _begin(self, model: Model) -> cp_model.CpSolverStatus:
        """Find any plan that keeps the rules, where the search has none to begin with.

        Without something to minimise that takes a moment where the search may take long. Done
        first it would hold the search to a poor beginning.
        """
        model.cp.clear_objective()  # type: ignore[no-untyped-call]  # ortools lacks the type
        solver, status = self._solve(model, work=self._work_left, tell=_nothing)
        if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            model.hint(solver)
            self._take(model, self._sets(model, solver))
            self._say(Progress(words="Found what keeps every rule; making it better", share=0.05))
        model.cp.minimize(model.objective)
        return status

    def _solve(
        self, model: Model, *, work: float, tell: Tell | None = None
    ) -> tuple[cp_model.CpSolver, cp_model.CpSolverStatus]:
        solver = cp_model.CpSolver()
        limits = self.limits
        solver.parameters.random_seed = limits.seed
        solver.parameters.num_workers = WORKERS_COUNT
        # Interleaving makes two workers reproducible, which plain parallel search is not.
        solver.parameters.interleave_search = True
        # Weeks differ in who comes, so there are no symmetries worth the time to look for.
        solver.parameters.symmetry_level = 0
        solver.parameters.max_deterministic_time = max(_LEAST_WORK, min(work, self._work_left))
        solver.parameters.relative_gap_limit = limits.gap_ratio
        if limits.ends_s is not None:
            solver.parameters.max_time_in_seconds = max(0.01, limits.ends_s - time.monotonic())
        spent = 1 - self._work_left / limits.work if limits.work else 1.0
        seen = _Seen(tell=tell or self._say, spent_share=spent, work=max(limits.work, _LEAST_WORK))
        status = solver.solve(model.cp, seen)
        self._work_left -= max(_LEAST_WORK, solver.response_proto.deterministic_time)
        return solver, status

    def _take(self, model: Model, sets: Orders) -> None:
        """Order each cell exactly; keep the plan if it is better; tell the model what it missed."""
        orders: Orders = {}
        for cell in self._problem.cells:
            chosen = sets[cell.index]
            self._mend(model, chosen)
            found = self._ordered(cell, chosen)
            if found is not None:
                orders[cell.index] = tuple(chosen[index] for index in found.indices)
        if len(orders) < len(self._problem.cells):
            return
        cost = assembly.plan(self._problem, orders=orders, seed=0, bound=None).objective
        if self.best is None or cost < self.best.cost:
            self.best = Best(cost=cost, orders=orders)

    def _mend(self, model: Model, chosen: tuple[MovementId, ...]) -> None:
        """Tell the model what stations of these kinds cost in each cell that can have them."""
        kinds = order.kinds_of(self._problem.catalogue[each] for each in chosen)
        for cell in self._problem.cells:
            if (cell.index, kinds) in self._told:
                continue
            self._told.add((cell.index, kinds))
            alike = [model.alike(cell, kind)[:count] for kind, count in kinds]
            standing_in = tuple(each for some in alike for each in some)
            if len(standing_in) < len(chosen):
                continue
            found = self._ordered(cell, standing_in)
            if found is None:
                self.forbidden.append((cell.index, kinds))
                model.forbid(cell, kinds)
            else:
                model.cost_at_least(cell, kinds, found.cost)

    def _ordered(self, cell: Cell, chosen: tuple[MovementId, ...]) -> Order | None:
        if (cell.index, chosen) not in self._known:
            self._known[cell.index, chosen] = order.best(
                [self._problem.catalogue[movement] for movement in chosen],
                walks=room.walks(self._problem, cell=cell, chosen=chosen),
                rest_ms=REST_MS,
                durations=self._problem.durations,
            )
        return self._known[cell.index, chosen]

    def _is_good_enough(self) -> bool:
        if self.best is None:
            return False
        return self.best.cost - self.bound <= self.limits.gap_ratio * self.best.cost

    def _is_late(self) -> bool:
        return self.limits.ends_s is not None and time.monotonic() >= self.limits.ends_s

    def _say(self, step: Progress) -> None:
        """Tell of progress, never backwards."""
        self._share = max(self._share, min(step.share, 0.95))
        self._tell(Progress(words=step.words, share=self._share))


def _nothing(_: Progress) -> None:
    """Tell nobody."""


def _found_words(cost_points: float, least_points: float | None) -> str:
    """Say how good the plan in hand is, in words that a leader can weigh."""
    if least_points is None or cost_points <= 0:
        return "A plan is found; looking for a better one"
    far = math.ceil(100 * max(0.0, cost_points - least_points) / cost_points)
    return f"A plan is found, at most {far} % from the best of its kind; improving it"


class _Seen(cp_model.CpSolverSolutionCallback):
    """Tells a person of each better plan."""

    def __init__(self, *, tell: Tell, spent_share: float, work: float) -> None:
        super().__init__()
        self._tell_step = tell
        self._spent_share = spent_share
        self._work = work

    def on_solution_callback(self) -> None:
        """Tell of the plan just found."""
        share = self._spent_share + self.deterministic_time / self._work
        words = _found_words(self.objective_value, self.best_objective_bound)
        self._tell_step(Progress(words=words, share=0.05 + 0.9 * share))
