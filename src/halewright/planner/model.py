"""The block as a constraint model: which movements stand in which cell."""

import itertools
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from ortools.sat.python import cp_model

from halewright.core.catalogue.movement import Movement, MovementId
from halewright.core.catalogue.words import Muscle, Pattern, SetUp
from halewright.core.people.person import PersonId
from halewright.core.planning import problem as problems
from halewright.core.planning import rules, score
from halewright.core.planning.calendar import Meet
from halewright.core.planning.problem import Cell, Problem
from halewright.core.session import durations as lengths
from halewright.core.session.durations import State
from halewright.core.units import SECOND_MS
from halewright.planner import objective, order, room, tour
from halewright.planner.objective import Chosen
from halewright.planner.order import Kind, Kinds

Forbidden = Sequence[tuple[int, Kinds]]
"""Cells, by index, and kinds of stations that no order can hold together there."""

_MOST_CHANGEOVER_S = 1_000_000
"""Above what a cell's sessions can spend: four weeks of slots are 10,000 s or so."""


@dataclass(slots=True, kw_only=True)
class Model:
    """A CP-SAT model with what is needed to read its answer and to tell it what it missed.

    `groups` holds a literal for each group of rules when the model was built to explain why there
    is no plan; it is empty otherwise, and the rules then simply hold.
    """

    cp: cp_model.CpModel
    chosen: Chosen
    changeover: Mapping[int, cp_model.IntVar]
    groups: dict[str, cp_model.IntVar] = field(default_factory=dict)
    explaining: bool = False
    objective: cp_model.LinearExprT = 0
    _alike: Mapping[int, Mapping[Kind, tuple[MovementId, ...]]]
    _counted: dict[tuple[int, Kind, int], cp_model.IntVar] = field(default_factory=dict)

    def rule(self, name: str, constraint: cp_model.Constraint) -> None:
        """Put a constraint under its group's literal when the model is built to explain."""
        if not self.explaining:
            return
        if name not in self.groups:
            self.groups[name] = self.cp.new_bool_var(name)
        constraint.only_enforce_if(self.groups[name])

    def forbid(self, cell: Cell, kinds: Kinds) -> None:
        """Tell that no order can hold stations of these kinds together in a cell."""
        literals = [self._at_least(cell, kind, count).negated() for kind, count in kinds]
        self.rule("order", self.cp.add_bool_or(literals))

    def cost_at_least(self, cell: Cell, kinds: Kinds, cost: int) -> None:
        """Tell what the changeovers of stations of these kinds together truly come to."""
        literals = [self._at_least(cell, kind, count) for kind, count in kinds]
        self.cp.add(self.changeover[cell.index] >= cost).only_enforce_if(literals)

    def _at_least(self, cell: Cell, kind: Kind, count: int) -> cp_model.IntVar:
        """Return a literal that must be true where a cell has so many stations of a kind."""
        key = (cell.index, kind, count)
        if key not in self._counted:
            literal = self.cp.new_bool_var(f"{cell.index} has {count} alike")
            alike = [self.chosen[cell.index, each] for each in self.alike(cell, kind)]
            most = len(alike) - count + 1
            self.cp.add(cp_model.LinearExpr.sum(alike) <= count - 1 + most * literal)
            self._counted[key] = literal
        return self._counted[key]

    def alike(self, cell: Cell, kind: Kind) -> tuple[MovementId, ...]:
        """Return the movements of a cell that are alike in everything that an order asks."""
        return self._alike[cell.index].get(kind, ())

    def hint(self, solver: cp_model.CpSolver) -> None:
        """Let the next solve begin where this one ended."""
        self.cp.clear_hints()  # type: ignore[no-untyped-call]  # ortools lacks the type
        for index, value in enumerate(solver.response_proto.solution):
            self.cp.add_hint(self.cp.get_int_var_from_proto_index(index), value)


def build(problem: Problem, *, explaining: bool = False, forbidden: Forbidden = ()) -> Model:
    """Return the model of a problem; with `explaining`, rule groups can be switched off.

    `forbidden` are kinds of stations that no order can hold together.
    """
    cp = cp_model.CpModel()
    chosen = {
        (cell.index, movement): cp.new_bool_var(f"{cell.index} {movement}")
        for cell in problem.cells
        for movement in cell.choices
    }
    changeover = {
        cell.index: cp.new_int_var(0, _MOST_CHANGEOVER_S, f"changeover {cell.index}")
        for cell in problem.cells
    }
    model = Model(
        cp=cp,
        chosen=chosen,
        changeover=changeover,
        explaining=explaining,
        _alike={cell.index: order.alike(problem.catalogue, cell.choices) for cell in problem.cells},
    )
    for cell in problem.cells:
        _content(model, problem, cell)
        _time_and_tour(model, problem, cell)
    _weeks(model, problem)
    _renewal(model, problem)
    _running_days(model, problem)
    for index, kinds in forbidden:
        model.forbid(problem.cells[index], kinds)
    if not explaining:
        model.objective = objective.of(problem, cp=cp, chosen=chosen, changeover=changeover)
        cp.minimize(model.objective)
    return model


def _content(model: Model, problem: Problem, cell: Cell) -> None:
    """The number of stations, the required patterns, and how often a prime mover may stand."""
    own = {movement: model.chosen[cell.index, movement] for movement in cell.choices}
    model.rule("stations", model.cp.add(sum(own.values()) == problem.stations))
    for need in problem.settings.each_session:
        fitting = [var for each, var in own.items() if _of(problem, each).pattern in need.patterns]
        model.rule(f"patterns {need.name}", model.cp.add(sum(fitting) >= 1))
    loaded = [var for each, var in own.items() if rules.is_loaded(_of(problem, each))]
    least = math.ceil(problem.settings.least_loaded_share * problem.stations)
    model.rule("loaded", model.cp.add(sum(loaded) >= least))
    for pattern in Pattern:
        alike = [var for each, var in own.items() if _of(problem, each).pattern is pattern]
        if len(alike) > problem.settings.most_of(pattern):
            constraint = model.cp.add(sum(alike) <= problem.settings.most_of(pattern))
            model.rule("pattern_repeat", constraint)
    most = min(problem.settings.most_same_prime_count, _most_apart(problem, cell))
    for muscle in Muscle:
        same = [var for each, var in own.items() if muscle in _of(problem, each).prime_movers]
        if len(same) > most:
            model.rule("neighbours", model.cp.add(sum(same) <= most))


def _most_apart(problem: Problem, cell: Cell) -> int:
    """Return how many stations of one prime mover can stand with none beside another."""
    goes_round = any(problem.rounds_of(meet) > 1 for meet in cell.meets)
    return max(1, problem.stations // 2) if goes_round else (problem.stations + 1) // 2


def _of(problem: Problem, movement: MovementId) -> Movement:
    return problem.catalogue[movement]


def _time_and_tour(model: Model, problem: Problem, cell: Cell) -> None:
    """The least changeover of the states used, and room for it in the slot.

    A tour over the states is a lower bound on the true order, which is found afterwards.
    """
    states: dict[State, list[cp_model.IntVar]] = {}
    for movement in cell.choices:
        state = lengths.state_of(_of(problem, movement).standard)
        states.setdefault(state, []).append(model.chosen[cell.index, movement])
    cycle = tour.cycle(
        model.cp,
        used=states,
        costs=tour.closed_costs(tuple(sorted(states)), problem.durations),
    )
    ends = tour.ends(model.cp, used=states, durations=problem.durations)
    walks = sum(problem.rounds_of(meet) for meet in cell.meets)
    least = walks * cycle + len(cell.meets) * ends
    model.cp.add(model.changeover[cell.index] >= least)
    banded = model.cp.new_bool_var(f"banded {cell.index}")
    for state, stations in states.items():
        if state.set_up is not SetUp.NONE:
            for station in stations:
                model.cp.add_implication(station, banded)
    alike = {
        (problem.rounds_of(meet), meet.purpose, problem.work_ms_of(meet)): meet
        for meet in cell.meets
    }
    for (rounds, _, work_ms), meet in sorted(alike.items()):
        room_s = room.circuit_ms(problem, cell=cell, meet=meet) // SECOND_MS
        bands_s = room.bands_ms(problem.durations) // SECOND_MS
        work = _work(model, problem, cell, work_ms)
        needed = rounds * work + rounds * cycle + bands_s * banded
        model.rule("slot", model.cp.add(needed <= room_s))


def _work(model: Model, problem: Problem, cell: Cell, work_ms: int) -> cp_model.LinearExpr:
    """Return the seconds of work in one round, both sides and the swap included."""
    durations = problem.durations
    lengths_ms = (
        problems.work_of_ms(_of(problem, movement), work_ms=work_ms, durations=durations)
        for movement in cell.choices
    )
    return cp_model.LinearExpr.weighted_sum(
        [model.chosen[cell.index, movement] for movement in cell.choices],
        [length_ms // SECOND_MS for length_ms in lengths_ms],
    )


def _weeks(model: Model, problem: Problem) -> None:
    """Weekly patterns, and the corridor of sets for every way of attending a week."""
    meetings = len(problem.group.schedule.meetings)
    cell_of = cells_by_date(problem)
    seen: set[tuple[tuple[int, int, frozenset[tuple[MovementId, MovementId | None]]], ...]] = set()
    for week in sorted({meet.week for meet in problem.meets}):
        meets = [meet for meet in problem.meets if meet.week == week]
        if len({meet.slot for meet in meets}) == meetings:
            _week_patterns(model, problem, [cell_of[meet.on, meet.slot] for meet in meets])
        for attendance in _attendances(problem, meets):
            key = tuple(part.key for part in attendance)
            if key and key not in seen:
                seen.add(key)
                days = " and ".join(part.day for part in attendance)
                _corridor(model, problem, attendance, days if len(key) < len(meets) else "")


def cells_by_date(problem: Problem) -> Mapping[tuple[date, int], Cell]:
    """Return the cell of each session, by its date and slot."""
    return {(meet.on, meet.slot): cell for cell in problem.cells for meet in cell.meets}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Part:
    """One session of somebody's week: `instead` says what they do at a station as a last resort."""

    cell: Cell
    rounds: int
    instead: Mapping[MovementId, MovementId | None]

    @property
    def day(self) -> str:
        """The weekday, as in "Fridays"."""
        return f"{self.cell.meets[0].on:%A}s"

    @property
    def key(self) -> tuple[int, int, frozenset[tuple[MovementId, MovementId | None]]]:
        """What decides the sets that somebody gets."""
        return self.cell.index, self.rounds, frozenset(self.instead.items())


def _attendances(problem: Problem, meets: list[Meet]) -> Iterator[tuple[_Part, ...]]:
    """Yield what the group as a whole, and then each person, gets of a week's sessions."""
    yield tuple(_part(problem, meet, None) for meet in meets)
    for person in problem.group.people:
        if not problem.outcomes[person.id].undecided:
            yield tuple(
                _part(problem, meet, person.id) for meet in meets if person.id in meet.expected
            )


def _part(problem: Problem, meet: Meet, person: PersonId | None) -> _Part:
    cell = cells_by_date(problem)[meet.on, meet.slot]
    return _Part(
        cell=cell,
        rounds=problem.rounds_of(meet),
        instead={
            station: choice.instead[person, meet.on]
            for station, choice in cell.choices.items()
            if person is not None and (person, meet.on) in choice.instead
        },
    )


def _week_patterns(model: Model, problem: Problem, cells: list[Cell]) -> None:
    for need in problem.settings.each_week:
        fitting = [
            model.chosen[cell.index, movement]
            for cell in cells
            for movement in cell.choices
            if _of(problem, movement).pattern in need.patterns
        ]
        model.rule(f"week_patterns {need.name}", model.cp.add_bool_or(fitting))


def _corridor(model: Model, problem: Problem, attendance: tuple[_Part, ...], days: str) -> None:
    settings = problem.settings
    rounds = sum(part.rounds for part in attendance)
    for muscle in Muscle:
        gains = [
            (model.chosen[part.cell.index, station], part.rounds * gained)
            for part in attendance
            for station in part.cell.choices
            if (gained := _gained(problem, station, part.instead, muscle))
        ]
        least = settings.least_half_sets * rounds if muscle in settings.major_muscles else 0
        most = settings.most_half_sets * rounds
        if not gains and least == 0:
            continue
        total = cp_model.LinearExpr.weighted_sum(
            [var for var, _ in gains], [weight for _, weight in gains]
        )
        # An expression without variables is no constraint to the solver: an empty "or" is.
        constraint = (
            model.cp.add_linear_constraint(total, least, most)
            if gains
            else model.cp.add_bool_or([])
        )
        model.rule(f"corridor {muscle.value} {days}".strip(), constraint)


def _gained(
    problem: Problem,
    station: MovementId,
    instead: Mapping[MovementId, MovementId | None],
    muscle: Muscle,
) -> int:
    done = instead.get(station, station)
    return 0 if done is None else score.half_sets(_of(problem, done), frozenset({muscle}))


def _renewal(model: Model, problem: Problem) -> None:
    """From one phase to the next a third of a weekday's stations is new, and something stays."""
    most_kept = problem.stations - math.ceil(problem.stations / 3)
    by_slot: dict[int, list[Cell]] = {}
    for cell in problem.cells:
        by_slot.setdefault(cell.slot, []).append(cell)
    for index, (before, after) in enumerate(
        pair for cells in by_slot.values() for pair in itertools.pairwise(cells)
    ):
        both = []
        for movement in sorted(before.choices.keys() & after.choices.keys()):
            kept = model.cp.new_bool_var(f"kept {index} {movement}")
            ends = [model.chosen[before.index, movement], model.chosen[after.index, movement]]
            model.cp.add_bool_and(ends).only_enforce_if(kept)
            model.cp.add_bool_or([end.negated() for end in ends]).only_enforce_if(kept.negated())
            both.append(kept)
        model.rule("shape", model.cp.add(sum(both) <= most_kept))
        model.rule("shape", model.cp.add(sum(both) >= 1))


def _running_days(model: Model, problem: Problem) -> None:
    """On two days running no movement is repeated."""
    cell_of = cells_by_date(problem)
    pairs = {
        (cell_of[one.on, one.slot].index, cell_of[other.on, other.slot].index)
        for one, other in itertools.combinations(problem.meets, 2)
        if (other.on - one.on).days == 1
    }
    for first, second in sorted(pairs):
        shared = problem.cells[first].choices.keys() & problem.cells[second].choices.keys()
        for movement in sorted(shared):
            constraint = model.cp.add(
                model.chosen[first, movement] + model.chosen[second, movement] <= 1
            )
            model.rule("consecutive_days", constraint)
