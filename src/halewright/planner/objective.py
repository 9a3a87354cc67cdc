"""What the model minimises: the same parts that `core.planning.score` counts from a plan."""

from collections.abc import Iterable, Mapping

from ortools.sat.python import cp_model

from halewright.core.catalogue.movement import MovementId
from halewright.core.planning import rules, score
from halewright.core.planning.problem import Problem

Chosen = Mapping[tuple[int, MovementId], cp_model.IntVar]


def of(
    problem: Problem,
    *,
    cp: cp_model.CpModel,
    chosen: Chosen,
    changeover: Mapping[int, cp_model.IntVar],
) -> cp_model.LinearExprT:
    """Return the expression to minimise: what `score.costs` will count, part by part."""
    weights = problem.settings.weights
    terms: list[cp_model.LinearExprT] = [
        chosen[cell.index, movement]
        * (
            choice.cue_points
            + weights.last_resort_points * choice.resorts
            + weights.load_points
            * len(cell.meets)
            * (not rules.is_loaded(problem.catalogue[movement]))
        )
        for cell in problem.cells
        for movement, choice in cell.choices.items()
    ]
    terms += [weights.changeover_points * var for var in changeover.values()]
    terms += _balance(problem, cp, chosen)
    terms += _goals(problem, cp, chosen)
    terms.append(weights.variety_points * _variety(problem, cp, chosen))
    terms.append(weights.fairness_points * _fairness(problem, cp, chosen))
    return sum(terms)


def _balance(
    problem: Problem, cp: cp_model.CpModel, chosen: Chosen
) -> Iterable[cp_model.LinearExprT]:
    for phase in sorted({cell.phase for cell in problem.cells}):
        for index, (one, other) in enumerate(rules.BALANCES):
            total = sum(
                chosen[cell.index, movement]
                * len(cell.meets)
                * (
                    score.half_sets(problem.catalogue[movement], one)
                    - score.half_sets(problem.catalogue[movement], other)
                )
                for cell in problem.cells
                if cell.phase == phase
                for movement in cell.choices
            )
            uneven = cp.new_int_var(0, 1_000_000, f"uneven {phase} {index}")
            cp.add(uneven >= total)
            cp.add(uneven >= -total)
            yield problem.settings.weights.balance_points * uneven


def _goals(
    problem: Problem, cp: cp_model.CpModel, chosen: Chosen
) -> Iterable[cp_model.LinearExprT]:
    goals = problem.group.goals
    for place, goal in enumerate(goals):
        weight = problem.settings.weights.goal_points * (len(goals) - place)
        for cell in problem.cells:
            served = sum(
                chosen[cell.index, movement]
                for movement in cell.choices
                if goal in {each.value for each in problem.catalogue[movement].goals}
            )
            short = cp.new_int_var(0, rules.GOAL_STATIONS, f"short {goal} {cell.index}")
            cp.add(short >= rules.GOAL_STATIONS - served)
            yield weight * len(cell.meets) * short


def _variety(problem: Problem, cp: cp_model.CpModel, chosen: Chosen) -> cp_model.IntVar:
    places: dict[MovementId, list[cp_model.IntVar]] = {}
    for (_, movement), var in chosen.items():
        places.setdefault(movement, []).append(var)
    used = []
    for movement, everywhere in places.items():
        met = cp.new_bool_var(f"met {movement}")
        cp.add_bool_or([*everywhere, met.negated()])
        used.append(met)
    target = rules.VARIETY_STATIONS * problem.stations
    short = cp.new_int_var(0, target, "variety")
    cp.add(short >= target - sum(used))
    return short


def _fairness(problem: Problem, cp: cp_model.CpModel, chosen: Chosen) -> cp_model.IntVar:
    most = cp.new_int_var(0, len(problem.meets) * problem.stations, "most often different")
    for person in problem.group.people:
        times = sum(
            chosen[cell.index, movement] * choice.different[person.id]
            for cell in problem.cells
            for movement, choice in cell.choices.items()
            if person.id in choice.different
        )
        cp.add(most >= times)
    return most
