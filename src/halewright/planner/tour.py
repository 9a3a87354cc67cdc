"""The shortest tour over the states that a session uses, as a circuit in the model."""

import itertools
from collections.abc import Mapping, Sequence

from ortools.sat.python import cp_model

from halewright.core.planning import score
from halewright.core.planning.problem import REST_MS
from halewright.core.session import durations as lengths
from halewright.core.session.durations import REST_STATE, Durations, State
from halewright.core.units import SECOND_MS


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
    visits = _visits(cp, used)
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


def ends(
    cp: cp_model.CpModel,
    *,
    used: Mapping[State, Sequence[cp_model.IntVar]],
    durations: Durations,
) -> cp_model.LinearExpr:
    """Add a choice of first and last state; return what it costs above the circuit.

    A session begins and ends at rest and does not close its last round: it costs its rounds of
    the circuit, and getting into the first state and out of the last, less the way between them.
    """
    visits = _visits(cp, used)
    choices = []
    costs = []
    for first, last in itertools.product(sorted(used), repeat=2):
        pair = cp.new_bool_var("")
        cp.add_implication(pair, visits[first])
        cp.add_implication(pair, visits[last])
        if first == last:
            # One station is not both the first and the last, where there are two or more.
            cp.add(cp_model.LinearExpr.sum(list(used[first])) >= 2).only_enforce_if(pair)
        into = lengths.changeover_ms(before=REST_STATE, after=first, durations=durations)
        out = lengths.changeover_ms(before=last, after=REST_STATE, durations=durations)
        back = score.excess_s(before=last, after=first, rest_ms=REST_MS, durations=durations)
        choices.append(pair)
        costs.append(into // SECOND_MS + out // SECOND_MS - back)
    cp.add_exactly_one(choices)
    return cp_model.LinearExpr.weighted_sum(choices, costs)


def _visits(
    cp: cp_model.CpModel, used: Mapping[State, Sequence[cp_model.IntVar]]
) -> Mapping[State, cp_model.IntVar]:
    """Return a literal for each state: any of its stations is chosen."""
    visits = {state: cp.new_bool_var(f"visits {state}") for state in sorted(used)}
    for state, stations in sorted(used.items()):
        for station in stations:
            cp.add_implication(station, visits[state])
        cp.add_bool_or([*stations, visits[state].negated()])
    return visits


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
