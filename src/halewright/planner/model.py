"""The block as a constraint model: which movements stand in which cell."""

import itertools
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from ortools.sat.python import cp_model

from halewright.core.catalogue.movement import Movement, MovementId
from halewright.core.catalogue.words import Muscle, Pattern
from halewright.core.planning import problem as problems
from halewright.core.planning import rules, score
from halewright.core.planning.problem import REST_MS, Cell, Problem
from halewright.core.session import durations as lengths
from halewright.core.session.durations import State
from halewright.core.session.outline import Purpose
from halewright.core.units import MINUTE_MS, SECOND_MS
from halewright.planner import tour

Chosen = Mapping[tuple[int, MovementId], cp_model.IntVar]


@dataclass(slots=True, kw_only=True)
class Model:
    """A CP-SAT model with what is needed to read its answer.

    `groups` holds a literal for each group of rules when the model was built to explain why there
    is no plan; it is empty otherwise, and the rules then simply hold.
    """

    cp: cp_model.CpModel
    chosen: Chosen
    changeover: dict[int, cp_model.IntVar]
    groups: dict[str, cp_model.IntVar] = field(default_factory=dict)
    explaining: bool = False

    def rule(self, name: str, constraint: cp_model.Constraint) -> None:
        """Put a constraint under its group's literal when the model is built to explain."""
        if not self.explaining:
            return
        if name not in self.groups:
            self.groups[name] = self.cp.new_bool_var(name)
        constraint.only_enforce_if(self.groups[name])


def build(problem: Problem, *, explaining: bool = False) -> Model:
    """Return the model of a problem; with `explaining`, rule groups can be switched off."""
    cp = cp_model.CpModel()
    chosen = {
        (cell.index, movement): cp.new_bool_var(f"{cell.index} {movement}")
        for cell in problem.cells
        for movement in cell.choices
    }
    changeover = {
        cell.index: cp.new_int_var(0, 10_000_000, f"changeover {cell.index}")
        for cell in problem.cells
    }
    model = Model(cp=cp, chosen=chosen, changeover=changeover, explaining=explaining)
    for cell in problem.cells:
        _content(model, problem, cell)
        _time_and_tour(model, problem, cell)
    _weeks(model, problem)
    _renewal(model, problem)
    _running_days(model, problem)
    if not explaining:
        _objective(model, problem)
    return model


def _content(model: Model, problem: Problem, cell: Cell) -> None:
    """The number of stations, the required patterns, and how often a prime mover may stand."""
    own = {movement: model.chosen[cell.index, movement] for movement in cell.choices}
    model.rule("stations", model.cp.add(sum(own.values()) == problem.stations))
    for need in problem.settings.each_session:
        fitting = [var for each, var in own.items() if _of(problem, each).pattern in need.patterns]
        model.rule(f"patterns {need.name}", model.cp.add(sum(fitting) >= 1))
    loaded = [var for each, var in own.items() if rules.is_loaded(_of(problem, each))]
    least = math.floor(problem.settings.least_loaded_share * problem.stations)
    model.rule("loaded", model.cp.add(sum(loaded) >= least))
    for pattern in Pattern:
        alike = [var for each, var in own.items() if _of(problem, each).pattern is pattern]
        if len(alike) > problem.settings.most_of(pattern):
            constraint = model.cp.add(sum(alike) <= problem.settings.most_of(pattern))
            model.rule("pattern_repeat", constraint)
    most = min(problem.settings.most_same_prime_count, problem.stations // 2)
    for muscle in Muscle:
        same = [var for each, var in own.items() if muscle in _of(problem, each).prime_movers]
        if len(same) > most:
            model.rule("neighbours", model.cp.add(sum(same) <= most))


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
    walks = sum(problem.rounds_of(meet) for meet in cell.meets)
    model.cp.add(model.changeover[cell.index] >= walks * cycle)
    for rounds, purpose in sorted({(problem.rounds_of(m), m.purpose) for m in cell.meets}):
        needed = _needed_s(problem, cell, model.chosen, rounds=rounds, purpose=purpose)
        model.rule("slot", model.cp.add(needed + rounds * cycle <= _usable_s(problem)))


def _usable_s(problem: Problem) -> int:
    slot_ms = problem.group.schedule.slot_minutes * MINUTE_MS
    return (slot_ms - round(slot_ms * problem.durations.slack_share)) // SECOND_MS


def _needed_s(
    problem: Problem, cell: Cell, chosen: Chosen, *, rounds: int, purpose: Purpose
) -> cp_model.LinearExpr:
    """Return the session's length in seconds but for changeovers beyond the rest."""
    durations = problem.durations
    handling = purpose is Purpose.HANDLING
    explain_ms = durations.handling_explain_ms if handling else durations.explain_ms
    fixed_ms = problems.fixed_ms(rounds=rounds, durations=durations)
    fixed_ms += problem.stations * explain_ms
    fixed_ms += (rounds * problem.stations - rounds) * REST_MS
    work = cp_model.LinearExpr.sum(
        [
            chosen[cell.index, movement]
            * (
                problems.work_of_ms(
                    _of(problem, movement), work_ms=problem.work_ms, durations=durations
                )
                // SECOND_MS
            )
            for movement in cell.choices
        ]
    )
    return rounds * work + fixed_ms // SECOND_MS


def _weeks(model: Model, problem: Problem) -> None:
    """Weekly patterns, and the corridor of sets for every way of attending a week."""
    slots = {cell.slot for cell in problem.cells}
    seen: set[tuple[tuple[int, int], ...]] = set()
    for week in sorted({meet.week for meet in problem.meets}):
        cells = {
            cell.slot: (cell, problem.rounds_of(meet))
            for cell in problem.cells
            for meet in cell.meets
            if meet.week == week
        }
        if cells.keys() == slots:
            _week_patterns(model, problem, [cell for cell, _ in cells.values()])
        for attended in _attended(problem, week):
            key = tuple(sorted((cells[s][0].index, cells[s][1]) for s in attended))
            if key and key not in seen:
                seen.add(key)
                _corridor(model, problem, key)


def _attended(problem: Problem, week: int) -> set[frozenset[int]]:
    """Return the sets of a week's sessions that somebody, or the group, comes to."""
    meets = [meet for meet in problem.meets if meet.week == week]
    found = {frozenset(meet.slot for meet in meets)}
    for person in problem.group.people:
        if not problem.outcomes[person.id].undecided:
            found.add(frozenset(meet.slot for meet in meets if person.id in meet.expected))
    return found


def _week_patterns(model: Model, problem: Problem, cells: list[Cell]) -> None:
    for need in problem.settings.each_week:
        fitting = [
            model.chosen[cell.index, movement]
            for cell in cells
            for movement in cell.choices
            if _of(problem, movement).pattern in need.patterns
        ]
        model.rule(f"week patterns {need.name}", model.cp.add(sum(fitting) >= 1))


def _corridor(model: Model, problem: Problem, key: tuple[tuple[int, int], ...]) -> None:
    settings = problem.settings
    rounds = sum(number for _, number in key)
    for muscle in Muscle:
        total = sum(
            model.chosen[index, movement] * number * gained
            for index, number in key
            for movement in problem.cells[index].choices
            if (gained := score.half_sets(_of(problem, movement), frozenset({muscle})))
        )
        least = settings.least_half_sets * rounds if muscle in settings.major_muscles else 0
        if isinstance(total, int):
            if least > 0:
                model.rule(f"corridor {muscle.value}", model.cp.add_bool_or([]))
            continue
        most = settings.most_half_sets * rounds
        constraint = model.cp.add_linear_constraint(total, least, most)
        model.rule(f"corridor {muscle.value}", constraint)


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
    cell_of = {(meet.week, meet.number): cell for cell in problem.cells for meet in cell.meets}
    pairs = set()
    for one, other in itertools.pairwise(problem.meets):
        if (other.on - one.on).days == 1:
            cells = cell_of[one.week, one.number], cell_of[other.week, other.number]
            pairs.add((cells[0].index, cells[1].index))
    for first, second in sorted(pairs):
        shared = problem.cells[first].choices.keys() & problem.cells[second].choices.keys()
        for movement in sorted(shared):
            constraint = model.cp.add(
                model.chosen[first, movement] + model.chosen[second, movement] <= 1
            )
            model.rule("consecutive_days", constraint)


def _objective(model: Model, problem: Problem) -> None:
    weights = problem.settings.weights
    terms: list[cp_model.LinearExprT] = [
        model.chosen[cell.index, movement]
        * (
            choice.cue_points
            + weights.last_resort_points * choice.resorts
            + weights.load_points * len(cell.meets) * (not rules.is_loaded(_of(problem, movement)))
        )
        for cell in problem.cells
        for movement, choice in cell.choices.items()
    ]
    terms += [weights.changeover_points * var for var in model.changeover.values()]
    terms += _balance(model, problem)
    terms += _goals(model, problem)
    terms.append(weights.variety_points * _variety(model, problem))
    terms.append(weights.fairness_points * _fairness(model, problem))
    model.cp.minimize(sum(terms))


def _balance(model: Model, problem: Problem) -> Iterable[cp_model.LinearExprT]:
    for phase in sorted({cell.phase for cell in problem.cells}):
        for index, (one, other) in enumerate(rules.BALANCES):
            total = sum(
                model.chosen[cell.index, movement]
                * len(cell.meets)
                * (
                    score.half_sets(_of(problem, movement), one)
                    - score.half_sets(_of(problem, movement), other)
                )
                for cell in problem.cells
                if cell.phase == phase
                for movement in cell.choices
            )
            uneven = model.cp.new_int_var(0, 1_000_000, f"uneven {phase} {index}")
            model.cp.add(uneven >= total)
            model.cp.add(uneven >= -total)
            yield problem.settings.weights.balance_points * uneven


def _goals(model: Model, problem: Problem) -> Iterable[cp_model.LinearExprT]:
    goals = problem.group.goals
    for place, goal in enumerate(goals):
        weight = problem.settings.weights.goal_points * (len(goals) - place)
        for cell in problem.cells:
            served = sum(
                model.chosen[cell.index, movement]
                for movement in cell.choices
                if goal in {each.value for each in _of(problem, movement).goals}
            )
            short = model.cp.new_int_var(0, rules.GOAL_STATIONS, f"short {goal} {cell.index}")
            model.cp.add(short >= rules.GOAL_STATIONS - served)
            yield weight * len(cell.meets) * short


def _variety(model: Model, problem: Problem) -> cp_model.IntVar:
    places: dict[MovementId, list[cp_model.IntVar]] = {}
    for (_, movement), var in model.chosen.items():
        places.setdefault(movement, []).append(var)
    used = []
    for movement, everywhere in places.items():
        met = model.cp.new_bool_var(f"met {movement}")
        model.cp.add_bool_or([*everywhere, met.negated()])
        used.append(met)
    target = rules.VARIETY_STATIONS * problem.stations
    short = model.cp.new_int_var(0, target, "variety")
    model.cp.add(short >= target - sum(used))
    return short


def _fairness(model: Model, problem: Problem) -> cp_model.IntVar:
    most = model.cp.new_int_var(0, 1_000_000, "most often different")
    for person in problem.group.people:
        times = sum(
            model.chosen[cell.index, movement] * choice.different[person.id]
            for cell in problem.cells
            for movement, choice in cell.choices.items()
            if person.id in choice.different
        )
        model.cp.add(most >= times)
    return most
