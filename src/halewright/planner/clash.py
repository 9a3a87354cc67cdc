"""Rules that cannot be had together: a small set of them, found and made smaller by the solver."""

from dataclasses import dataclass

from ortools.sat.python import cp_model

from halewright.core.planning import rules
from halewright.core.planning.problem import Problem
from halewright.planner import model as models
from halewright.planner.model import Forbidden
from halewright.planner.reasons import Why

FIRST_WORK = 4.0
LATER_WORK = 0.5
"""Solver work for the first proof, and for each try with a rule left out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Answer:
    """What a try came to: `clashing` are rules that cannot hold together, None where none is
    proven; `works` says that a plan was found."""

    works: bool
    clashing: tuple[str, ...] | None


def of(problem: Problem, *, forbidden: Forbidden, seed: int) -> Why:
    """Return rules that clash, none of which could be spared; honest where none is proven.

    Ways out that alone give a plan come alone; where no single one does, all are named.
    """
    model = models.build(problem, explaining=True, forbidden=forbidden)
    names = tuple(sorted(model.groups))
    core = _tried(model, names, seed=seed, work=FIRST_WORK).clashing
    if core is None:
        return Why(
            words="No plan keeps every rule, and no smaller set of rules to blame was found in "
            "the work allowed.",
            ways_out=("Ask for one round fewer, or for a longer slot.",),
            sure=False,
        )
    core = _smaller(model, core, seed=seed)
    alone = [
        name
        for name in core
        if _tried(
            model, tuple(each for each in names if each != name), seed=seed, work=LATER_WORK
        ).works
    ]
    told = "; ".join(dict.fromkeys(_words(name, problem) for name in core))
    ways = dict.fromkeys(_way_out(name) for name in alone or core)
    return Why(
        words=f"These wishes cannot be had together: {told}.",
        ways_out=tuple(ways),
        sure=bool(alone),
    )


def _smaller(model: models.Model, core: tuple[str, ...], *, seed: int) -> tuple[str, ...]:
    """Leave out each rule in turn and keep it out where the others still clash."""
    for name in core:
        rest = tuple(each for each in core if each != name)
        found = _tried(model, rest, seed=seed, work=LATER_WORK).clashing
        if found is not None:
            core = rest
    return core


def _tried(model: models.Model, names: tuple[str, ...], *, seed: int, work: float) -> _Answer:
    solver = cp_model.CpSolver()
    solver.parameters.random_seed = seed
    solver.parameters.num_workers = 1
    solver.parameters.max_deterministic_time = work
    model.cp.clear_assumptions()
    model.cp.add_assumptions([model.groups[name] for name in names])
    status = solver.solve(model.cp)
    if status != cp_model.INFEASIBLE:
        works = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
        return _Answer(works=works, clashing=None)
    by_index = {literal.index: name for name, literal in model.groups.items()}
    found = solver.sufficient_assumptions_for_infeasibility()
    return _Answer(works=False, clashing=tuple(sorted(by_index[each] for each in found)) or names)


def _words(name: str, problem: Problem) -> str:
    head, _, tail = name.partition(" ")
    settings = problem.settings
    named = {need.name: need.words for need in (*settings.each_session, *settings.each_week)}
    if head == "patterns":
        return f"every session has a station for {named[tail]}"
    if head == "week_patterns":
        return f"every full week has a station for {named[tail]}"
    if head == "corridor":
        muscle, _, days = tail.partition(" ")
        who = f", for whoever comes on {days} only" if days else ""
        return f"enough and not too many sets for the {muscle.replace('_', ' ')} each week{who}"
    if head == "slot":
        minutes = problem.group.schedule.slot_minutes
        rounds = "1 round" if problem.rounds == 1 else f"{problem.rounds} rounds"
        return f"the session fits into {minutes} minutes with {rounds}"
    if head == "stations":
        return f"{problem.stations} stations in each session"
    if head == "order":
        return "an order in which neighbours differ and that fits the slot"
    sentence = rules.BY_NAME[head].sentence.rstrip(".")
    return sentence[0].lower() + sentence[1:]


_WAYS_OUT = {
    "slot": "Make the slot longer, or ask for one round fewer or shorter work intervals.",
    "stations": "Ask for another number of rounds, so that a session has more or fewer stations.",
    "patterns": "Add movements for {what} that suit everybody.",
    "week_patterns": "Add movements for {what} that suit everybody.",
    "corridor": "Add movements for the {what} that suit everybody.",
    "shape": "Add movements that suit everybody, so that more can be renewed.",
    "neighbours": "Add movements with other prime movers.",
    "pattern_repeat": "Add movements of other patterns.",
    "loaded": "Add movements with load that suit everybody.",
    "consecutive_days": "Meet on days that do not follow one another.",
    "order": "Make the slot longer, or add movements with other prime movers.",
}


def _way_out(name: str) -> str:
    head, _, tail = name.partition(" ")
    needs = {each.name: each.words for each in (*rules.EACH_SESSION, *rules.EACH_WEEK)}
    muscle = tail.partition(" ")[0].replace("_", " ")
    return _WAYS_OUT[head].format(what=needs.get(tail, muscle))
