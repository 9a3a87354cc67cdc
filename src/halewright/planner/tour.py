"""The shortest tour over the states that a session uses, as a circuit in the model."""

from collections.abc import Mapping, Sequence

from ortools.sat.python import cp_model

from halewright.core.planning import score
from halewright.core.planning.problem import REST_MS
from halewright.core.session.durations import Durations, State


def closed_costs(
    states: Sequence[State], durations: Durations
) -> Mapping[tuple[State, State], int]:
    """Return the seconds beyond rest from state to state, closed so that no way round is shorter.

    The closure makes the tour a lower bound whatever order the stations take, repeats included.
    """
    costs = {
        (one, other): score.excess_s(before=one, after=other, rest_ms=REST_MS, durations=durations)
        for one in states
        for other in states
    }
    for middle in states:
        for one in states:
            for other in states:
                round_about = costs[one, middle] + costs[middle, other]
                costs[one, other] = min(costs[one, other], round_about)
    return costs


def cycle(
    cp: cp_model.CpModel,
    *,
    used: Mapping[State, Sequence[cp_model.IntVar]],
    costs: Mapping[tuple[State, State], int],
) -> cp_model.LinearExpr:
    """Add a circuit over the states of which any station is chosen; return its cost."""
    states = sorted(used)
    visits = {state: cp.new_bool_var(f"visits {state}") for state in states}
    for state, stations in used.items():
        for station in stations:
            cp.add_implication(station, visits[state])
        cp.add_bool_or([*stations, visits[state].negated()])
    arcs = []
    spent: list[cp_model.LinearExprT] = []
    for place, one in enumerate(states):
        arcs.append((place, place, _stays(cp, one, states, visits)))
        for other_place, other in enumerate(states):
            if other != one:
                step = cp.new_bool_var("")
                arcs.append((place, other_place, step))
                spent.append(costs[one, other] * step)
    cp.add_circuit(arcs)
    return cp_model.LinearExpr.sum(spent)


def _stays(
    cp: cp_model.CpModel,
    state: State,
    states: Sequence[State],
    visits: Mapping[State, cp_model.IntVar],
) -> cp_model.IntVar:
    """Return the literal that a state is not left: it is not visited, or it is the only one."""
    stays = cp.new_bool_var("")
    cp.add_implication(visits[state].negated(), stays)
    for other in states:
        if other != state:
            cp.add_bool_or([stays.negated(), visits[state].negated(), visits[other].negated()])
    return stays
