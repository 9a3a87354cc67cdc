"""How much of a slot is left for the circuit: measured by the layout itself, not estimated."""

from collections.abc import Sequence

from halewright.core.catalogue.movement import MovementId
from halewright.core.catalogue.words import SetUp
from halewright.core.planning import assembly
from halewright.core.planning import problem as problems
from halewright.core.planning.calendar import Meet
from halewright.core.planning.problem import REST_MS, Cell, Problem
from halewright.core.session import layout
from halewright.core.session.durations import Durations
from halewright.planner.order import Walk


def circuit_ms(problem: Problem, *, cell: Cell, meet: Meet) -> int:
    """Return the time left for work and for changeovers beyond the rest; may be below nothing.

    Taken off are welcome, warm-up, cool-down and close, water, getting ready, the explaining of
    each station and the least rest between two. Bands out and down are left to `bands_ms`.
    """
    durations = problem.durations
    bare = assembly.outline(problem, cell=cell, meet=meet, order=())
    around_ms = layout.session_ms(outline=bare, catalogue=problem.catalogue, durations=durations)
    explain_ms = layout.explain_ms(outline=bare, durations=durations)
    used_ms = around_ms + durations.get_ready_ms + problem.stations * explain_ms
    used_ms += bare.rounds * durations.water_ms
    used_ms += bare.rounds * (problem.stations - 1) * REST_MS
    return layout.usable_ms(slot_ms=bare.slot_ms, durations=durations) - used_ms


def walks(problem: Problem, *, cell: Cell, chosen: Sequence[MovementId]) -> tuple[Walk, ...]:
    """Return each session of a cell as a walk: its rounds, and the room for its changeovers."""
    movements = [problem.catalogue[each] for each in chosen]
    banded = any(movement.standard.set_up is not SetUp.NONE for movement in movements)
    found = []
    for meet in cell.meets:
        rounds, interval_ms = problem.rounds_of(meet), problem.work_ms_of(meet)
        work_ms = sum(
            problems.work_of_ms(each, work_ms=interval_ms, durations=problem.durations)
            for each in movements
        )
        room_ms = circuit_ms(problem, cell=cell, meet=meet) - rounds * work_ms
        room_ms -= bands_ms(problem.durations) if banded else 0
        found.append(Walk(rounds=rounds, room_ms=room_ms))
    return tuple(found)


def bands_ms(durations: Durations) -> int:
    """Return the time to hand bands out and to put them down."""
    return durations.hand_out_ms + durations.bands_down_ms
