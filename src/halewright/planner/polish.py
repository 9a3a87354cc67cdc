"""Making a plan better one or two cells at a time, by what their order truly costs."""

from collections.abc import Iterator

from ortools.sat.python import cp_model

from halewright.core.catalogue.movement import MovementId
from halewright.core.planning.problem import Cell, Problem
from halewright.planner.model import Model

STEP_WORK = 0.15
"""Solver work for one step; a step that needs more is left for another."""

Chosen = dict[int, frozenset[MovementId]]
"""The stations of each cell, by its index."""


def neighbourhoods(problem: Problem) -> Iterator[tuple[Cell, ...]]:
    """Yield what to choose anew in turn: each pair of cells that touch, then each other pair."""
    cells = problem.cells
    pairs = [(one, other) for one in cells for other in cells if one.index < other.index]
    near = [pair for pair in pairs if _touch(*pair)]
    yield from near or ((cell,) for cell in cells)
    yield from (pair for pair in pairs if pair not in near)


def _touch(one: Cell, other: Cell) -> bool:
    return one.phase == other.phase or (one.slot == other.slot and other.phase - one.phase == 1)


def step(
    model: Model, *, free: tuple[Cell, ...], kept: Chosen, below: int | None, seed: int
) -> tuple[Chosen | None, float]:
    """Return better stations for the cells that are free, or None, and the work spent.

    Better by what the model knows: below the points given, or any at all for None.
    """
    cp = model.cp.clone()
    cp.clear_hints()  # type: ignore[no-untyped-call]  # ortools lacks the type
    freed = {cell.index for cell in free}
    for (index, movement), var in model.chosen.items():
        if index in freed:
            cp.add_hint(var, movement in kept[index])
        else:
            cp.add(var == int(movement in kept[index]))
    if below is not None:
        cp.add(model.objective <= below - 1)
    solver = cp_model.CpSolver()
    solver.parameters.random_seed = seed
    solver.parameters.num_workers = 1
    solver.parameters.symmetry_level = 0
    solver.parameters.max_deterministic_time = STEP_WORK
    status = solver.solve(cp)
    work = solver.response_proto.deterministic_time
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None, work
    found = {
        index: frozenset(
            movement
            for (at, movement), var in model.chosen.items()
            if at == index and solver.boolean_value(var)
        )
        for index in kept
    }
    return found, work
