"""Why there is no plan, in a leader's words, and the smallest change that would help."""

import calendar
from dataclasses import dataclass

from ortools.sat.python import cp_model

from halewright.core.catalogue.movement import Movement
from halewright.core.catalogue.words import Part
from halewright.core.people.person import PersonId
from halewright.core.planning import choice, rules, stock
from halewright.core.planning.problem import Cell, Problem
from halewright.core.planning.rules import Requirement
from halewright.planner import model as models

CORE_WORK = 4.0
_NAMED = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Why:
    """A reason and what would help."""

    words: str
    ways_out: tuple[str, ...]


def at_once(problem: Problem) -> Why | None:
    """Return a reason that counting alone can find, or None."""
    if not problem.cells:
        return Why(
            words="The block holds no session: every date is off, or there are no weeks.",
            ways_out=("Give more weeks, or take dates out of the dates off.",),
        )
    for cell in problem.cells:
        for why in (_need(problem, cell), _few(problem, cell), _gentle(problem, cell)):
            if why is not None:
                return why
    return None


def _need(problem: Problem, cell: Cell) -> Why | None:
    for need in problem.settings.each_session:
        held = any(problem.catalogue[each].pattern in need.patterns for each in cell.choices)
        if not held:
            return _emptied(problem, cell, need)
    return None


def _emptied(problem: Problem, cell: Cell, need: Requirement) -> Why:
    """Say who or what left a required pattern without any movement."""
    candidates = [
        movement
        for movement in problem.catalogue.values()
        if movement.part is Part.MAIN and movement.pattern in need.patterns
    ]
    blocked = {movement.id: _without(movement, cell, problem) for movement in candidates}
    open_to = [movement for movement in candidates if not blocked[movement.id]]
    if open_to:
        return _not_enough_bands(open_to, problem, cell, need)
    nearest = min(candidates, key=lambda each: len(blocked[each.id]), default=None)
    if nearest is None:
        return Why(
            words=f"The catalogue has no movement for {need.words}.",
            ways_out=(f"Add a movement for {need.words}.",),
        )
    people = blocked[nearest.id]
    names = _names(problem, people)
    count = "one person needs" if len(people) == 1 else f"{len(people)} people need"
    return Why(
        words=f"{_when(cell, problem)} {count} a way of {need.words}, and there is none: {names}.",
        ways_out=(
            f"Let {names} do another movement or sit out at that station "
            "(a last resort that you accept by name).",
            f"Ask whoever set the limits of {names} whether a way of “{nearest.name}” is open.",
            f"Add a movement for {need.words} that suits {names}.",
        ),
    )


def _without(movement: Movement, cell: Cell, problem: Problem) -> tuple[PersonId, ...]:
    return tuple(
        person
        for person in cell.people
        if not problem.outcomes[person].undecided
        and choice.way(person, movement, problem.matrix) is None
    )


def _not_enough_bands(
    movements: list[Movement], problem: Problem, cell: Cell, need: Requirement
) -> Why:
    movement = movements[0]
    meet = max(cell.meets, key=lambda each: len(each.expected))
    shape = stock.shape_of(movement)
    free = stock.needs_latex_free(meet, problem.group)
    have = stock.available(problem.group, shape=shape, on=meet.on, latex_free=free)
    kind = f"{'latex-free ' if free else ''}{shape.value}s"
    return Why(
        words=f"{_when(cell, problem)} {len(meet.expected)} people are expected and the bag holds "
        f"{have} {kind}, too few for any movement for {need.words}.",
        ways_out=(f"Bring {len(meet.expected) - have} more {kind}.",),
    )


def _few(problem: Problem, cell: Cell) -> Why | None:
    if len(cell.choices) >= problem.stations:
        return None
    return Why(
        words=f"{_when(cell, problem)} only {len(cell.choices)} movements suit everybody, and a "
        f"session needs {problem.stations}.",
        ways_out=(
            "Ask for fewer stations or a shorter main part.",
            "Let some people sit out a station (a last resort that you accept by name).",
        ),
    )


def _gentle(problem: Problem, cell: Cell) -> Why | None:
    for part, items in (("warm-up", cell.warm_up), ("cool-down", cell.cool_down)):
        if len(items) < rules.LEAST_GENTLE_COUNT:
            return Why(
                words=f"{_when(cell, problem)} only {len(items)} {part} movements suit everybody.",
                ways_out=(f"Add a {part} movement that is done seated.",),
            )
    return None


def by_core(problem: Problem, *, seed: int) -> Why:
    """Return a small set of rules that clash, found by the solver; honest when it finds none."""
    model = models.build(problem, explaining=True)
    names = sorted(model.groups)
    core = _clash(model, names, seed=seed)
    if core is None:
        return Why(
            words="No plan was found in the work allowed, and it could not be proven that none "
            "exists.",
            ways_out=("Allow more work.", "Ask for one round fewer, or a longer slot."),
        )
    for name in tuple(core):
        smaller = [each for each in core if each != name]
        if _clash(model, smaller, seed=seed) is not None:
            core = smaller
    told = "; ".join(_rule_words(name, problem) for name in core)
    return Why(
        words=f"These wishes cannot be had together: {told}.",
        ways_out=tuple(_way_out(name) for name in core),
    )


def _clash(model: models.Model, names: list[str], *, seed: int) -> list[str] | None:
    """Return the names that clash, or None where a plan exists or nothing is proven."""
    solver = cp_model.CpSolver()
    solver.parameters.random_seed = seed
    solver.parameters.num_workers = 1
    solver.parameters.max_deterministic_time = CORE_WORK
    model.cp.clear_assumptions()
    model.cp.add_assumptions([model.groups[name] for name in names])
    if solver.solve(model.cp) != cp_model.INFEASIBLE:
        return None
    by_index = {literal.index: name for name, literal in model.groups.items()}
    found = solver.sufficient_assumptions_for_infeasibility()
    return sorted(by_index[index] for index in found) or list(names)


def _rule_words(name: str, problem: Problem) -> str:
    head, _, tail = name.partition(" ")
    settings = problem.settings
    named = {need.name: need.words for need in (*settings.each_session, *settings.each_week)}
    if head == "patterns":
        return f"every session has a station for {named[tail]}"
    if name.startswith("week patterns"):
        return f"every week has a station for {named[name.rpartition(' ')[2]]}"
    if head == "corridor":
        return f"enough and not too many sets for the {tail.replace('_', ' ')} each week"
    if head == "slot":
        minutes = problem.group.schedule.slot_minutes
        return f"the session fits into {minutes} minutes with {problem.rounds} rounds"
    if head == "stations":
        return f"{problem.stations} stations in each session"
    return rules.BY_NAME[head].sentence.rstrip(".").lower() if head in rules.BY_NAME else name


def _way_out(name: str) -> str:
    head = name.partition(" ")[0]
    ways = {
        "slot": "Make the slot longer, or ask for one round fewer or shorter work intervals.",
        "stations": "Ask for fewer stations.",
        "patterns": "Leave that pattern out, or add movements of it that suit everybody.",
        "week": "Leave that weekly pattern out, or add movements of it that suit everybody.",
        "corridor": "Widen the corridor for that muscle group.",
        "shape": "Keep the stations for longer, or add movements so that more can be renewed.",
        "neighbours": "Add movements with other prime movers.",
        "consecutive_days": "Meet on days that do not follow one another.",
    }
    return ways.get(head, "Drop this wish.")


def _when(cell: Cell, problem: Problem) -> str:
    day = calendar.day_name[cell.meets[0].on.weekday()]
    weeks = sorted({meet.week for meet in cell.meets})
    span = f"week {weeks[0]}" if len(weeks) == 1 else f"weeks {weeks[0]} to {weeks[-1]}"
    several = len(problem.cells) > len(problem.group.schedule.meetings)
    return f"On {day}s in {span}" if several else f"On {day}s"


def _names(problem: Problem, people: tuple[PersonId, ...]) -> str:
    known = {person.id: person.preferred_name for person in problem.group.people}
    names = [known[person] for person in people]
    if len(names) > _NAMED:
        return f"{', '.join(names[:_NAMED])} and {len(names) - _NAMED} more"
    return " and ".join(names)
