"""Why there is no plan, in a leader's words, and the smallest changes that would help."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from halewright.core.catalogue.movement import Movement
from halewright.core.catalogue.words import Part, Position
from halewright.core.people import kit
from halewright.core.people.person import PersonId
from halewright.core.planning import choice, rules, stock
from halewright.core.planning import problem as problems
from halewright.core.planning.calendar import Meet
from halewright.core.planning.problem import Cell, Problem, Shape
from halewright.core.planning.rules import Requirement
from halewright.core.units import MINUTE_MS, SECOND_MS
from halewright.planner import room

_NAMED = 3
_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")

LAST_RESORT = (
    "Accept last resorts: at a station that does not suit one or two people they do another "
    "movement of its kind or sit out, each time named to you."
)

Works = Callable[[Problem], bool]
"""Whether a problem has a plan, as far as a short search can tell."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Why:
    """A reason and what would help; `sure` says that each way out alone was seen to help."""

    words: str
    ways_out: tuple[str, ...]
    sure: bool = True


def at_once(problem: Problem) -> Why | None:
    """Return a reason that counting alone can find, or None."""
    return next(_counted(problem), None)


def last_resorts(problem: Problem, *, works: Works) -> tuple[str, ...]:
    """Return last resorts as a way out, where they are not allowed yet and would give a plan."""
    if problem.last_resorts:
        return ()
    loosened = problems.with_last_resorts(problem)
    return (LAST_RESORT,) if at_once(loosened) is None and works(loosened) else ()


def more_bands(problem: Problem, *, works: Works) -> tuple[str, ...]:
    """Return bringing bands as a way out, where the bag is short and that would give a plan."""
    short = tuple(dict.fromkeys(_short(problem)))
    if not short:
        return ()
    filled = problems.with_bands_enough(problem)
    if at_once(filled) is not None or not works(filled):
        return ()
    return (f"Bring {' and '.join(short)}, so that there are enough for everybody.",)


def _short(problem: Problem) -> Iterator[str]:
    """Yield what the bag is short of in the session that is short of most."""
    if not problem.group.bands:
        return
    for shape in kit.Shape:
        most = max(problem.meets, key=lambda meet: _missing(problem, meet, shape))
        missing = _missing(problem, most, shape)
        if missing > 0:
            free = "latex-free " if stock.needs_latex_free(most, problem.group) else ""
            yield f"{missing} more {free}{shape.value}{'s' if missing > 1 else ''}"


def _missing(problem: Problem, meet: Meet, shape: kit.Shape) -> int:
    free = stock.needs_latex_free(meet, problem.group)
    have = stock.available(problem.group, shape=shape, on=meet.on, latex_free=free)
    return len(meet.expected) - have


def _counted(problem: Problem) -> Iterator[Why]:
    if not problem.cells:
        yield Why(
            words="The block holds no session: every date is off, or there are no weeks.",
            ways_out=("Give more weeks, or take dates out of the dates off.",),
        )
        return
    if not any(cell.people for cell in problem.cells):
        yield Why(
            words="Nobody is expected at any session: the group lists nobody who comes.",
            ways_out=("Add people to the group, or look at the days on which they come.",),
        )
        return
    yield from _asked(problem)
    for cell in problem.cells:
        yield from _gentle(problem, cell)
    yield from _slot(problem)
    for cell in problem.cells:
        for need in problem.settings.each_session:
            if not _has(problem, cell, need):
                yield _emptied(problem, cell, need)
        yield from _few(problem, cell)
    yield from _weekly(problem)


def _asked(problem: Problem) -> Iterator[Why]:
    """Say what was asked for that no session can be."""
    most = problems.MOST_ROUNDS_COUNT
    if not 1 <= problem.rounds <= most:
        yield Why(
            words=f"{problem.rounds} rounds are asked for; a session can hold 1 to {most}.",
            ways_out=(f"Ask for 1 to {most} rounds, or let them be chosen.",),
        )
    if not 0 < problem.work_ms < problems.WORK_BELOW_S * SECOND_MS:
        yield Why(
            words=f"Work intervals of {problem.work_ms / SECOND_MS:g} seconds are asked for; "
            f"they must be under {problems.WORK_BELOW_S:g} seconds.",
            ways_out=("Ask for 30 to 50 seconds, or let them be chosen.",),
        )


def _slot(problem: Problem) -> Iterator[Why]:
    """Say that the slot is too short for the circuit even with no changeover at all."""
    shape = Shape(rounds=problem.rounds, stations=problem.stations)
    minutes = problem.group.schedule.slot_minutes
    for cell in problem.cells:
        for meet in cell.meets:
            rounds = problem.rounds_of(meet)
            left_ms = room.circuit_ms(problem, cell=cell, meet=meet)
            short_ms = rounds * shape.stations * problem.work_ms_of(meet) - left_ms
            if short_ms > 0:
                needed = _minutes_for(shape, problem)
                yield Why(
                    words=f"A slot of {minutes} minutes is too short: the welcome, warm-up, "
                    f"cool-down and close with {_count(rounds, 'round')} of {shape.stations} "
                    f"stations need about {needed} minutes.",
                    ways_out=(
                        f"Make the slot at least {needed} minutes.",
                        *(("Ask for fewer rounds.",) if shape.rounds > 1 else ()),
                    ),
                )
                return


def _minutes_for(shape: Shape, problem: Problem) -> int:
    durations = problem.durations
    rough_ms = problems.rough_ms(shape, work_ms=problem.work_ms, durations=durations)
    return -(-round(rough_ms / (1 - durations.slack_share)) // MINUTE_MS)


def _has(problem: Problem, cell: Cell, need: Requirement) -> bool:
    return any(problem.catalogue[each].pattern in need.patterns for each in cell.choices)


def _weekly(problem: Problem) -> Iterator[Why]:
    """Say which weekly pattern no session of a full week can hold."""
    meetings = len(problem.group.schedule.meetings)
    for week in sorted({meet.week for meet in problem.meets}):
        cells = [cell for cell in problem.cells if any(meet.week == week for meet in cell.meets)]
        if len(cells) < meetings:
            continue
        for need in problem.settings.each_week:
            if not any(_has(problem, cell, need) for cell in cells):
                yield _emptied(problem, cells[0], need)


def _emptied(problem: Problem, cell: Cell, need: Requirement) -> Why:
    """Say who or what left a required pattern without any movement."""
    candidates = [
        movement
        for movement in problem.catalogue.values()
        if movement.part is Part.MAIN and movement.pattern in need.patterns
    ]
    if not candidates:
        return Why(
            words=f"The catalogue has no movement for {need.words}.",
            ways_out=(f"Add a movement for {need.words}.",),
        )
    blocked = {each.id: problems.in_need(problem, each, cell) for each in candidates}
    open_to = [each for each in candidates if _suits(problem, blocked[each.id])]
    if open_to:
        return _not_enough_bands(open_to[0], problem, cell, need)
    nearest = min(candidates, key=lambda each: len(blocked[each.id]))
    return _no_way(problem, cell, need, nearest, blocked[nearest.id])


def _suits(problem: Problem, people: tuple[PersonId, ...]) -> bool:
    most = problems.MOST_LAST_RESORT_PEOPLE_COUNT if problem.last_resorts else 0
    return len(people) <= most


def _no_way(
    problem: Problem,
    cell: Cell,
    need: Requirement,
    nearest: Movement,
    people: tuple[PersonId, ...],
) -> Why:
    names = _names(problem, people)
    kind = _kind_of_way(problem, cell, nearest, people)
    verb = "needs" if len(people) == 1 else "need"
    told = _told(problem, nearest, people)
    return Why(
        words=f"{_when(cell, problem)} {_count(len(people), 'person')} {verb} {kind} of "
        f"{need.words}, and there is none: {names}.{told}",
        ways_out=(
            f"Ask whoever set the limits of {names} whether a way of “{nearest.name}” is open.",
            f"Add a movement for {need.words} that suits {names}.",
        ),
    )


def _kind_of_way(
    problem: Problem, cell: Cell, nearest: Movement, people: tuple[PersonId, ...]
) -> str:
    """Say what is missing: a seated way, one without a band for a first session, or just a way."""
    seated = [each for each in nearest.options if each.position is Position.SEATED]
    if not seated:
        return "a seated way"
    decided_fully = all(
        choice.way(person, nearest, problem.matrix) is not None for person in people
    )
    if decided_fully:
        when = cell.meets[0].on if problem.meets[0] in cell.meets else None
        return f"a way without a band{' for the first session' if when else ''}"
    return "a way"


def _told(problem: Problem, nearest: Movement, people: tuple[PersonId, ...]) -> str:
    """Give the first reason against the nearest movement's own way, in the screen's words."""
    for person in people:
        found = problem.matrix[person, nearest.id, nearest.standard.kind]
        if found.reasons:
            return f" Nearest is “{nearest.name}”: {found.reasons[0].words}"
    return ""


def _not_enough_bands(movement: Movement, problem: Problem, cell: Cell, need: Requirement) -> Why:
    meet = max(cell.meets, key=lambda each: len(each.expected) - _in_bag(movement, problem, each))
    have = _in_bag(movement, problem, meet)
    free = stock.needs_latex_free(meet, problem.group)
    kind = f"{'latex-free ' if free else ''}{stock.shape_of(movement).value}s"
    return Why(
        words=f"{_when(cell, problem)} {len(meet.expected)} people are expected and the bag holds "
        f"{have} {kind}, too few for any movement for {need.words}.",
        ways_out=(f"Bring {len(meet.expected) - have} more {kind}.",),
    )


def _in_bag(movement: Movement, problem: Problem, meet: Meet) -> int:
    return stock.available(
        problem.group,
        shape=stock.shape_of(movement),
        on=meet.on,
        latex_free=stock.needs_latex_free(meet, problem.group),
    )


def _few(problem: Problem, cell: Cell) -> Iterator[Why]:
    if len(cell.choices) >= problem.stations:
        return
    yield Why(
        words=f"{_when(cell, problem)} only {len(cell.choices)} movements suit everybody, and a "
        f"session needs {problem.stations}.",
        ways_out=("Ask for a shorter slot, so that a session needs fewer stations.",),
    )


def _gentle(problem: Problem, cell: Cell) -> Iterator[Why]:
    parts = ((Part.WARM_UP, "warm-up", cell.warm_up), (Part.COOL_DOWN, "cool-down", cell.cool_down))
    for part, name, items in parts:
        if len(items) >= rules.LEAST_GENTLE_COUNT:
            continue
        words = (
            f"{_when(cell, problem)} only {len(items)} {name} movements suit everybody, "
            f"and a session needs {rules.LEAST_GENTLE_COUNT}."
        )
        ways_out = [f"Add a {name} movement that is done seated."]
        if barred := _barred_from(problem, part, cell):
            names = _names(problem, barred)
            words += f" Too few suit {names}."
            ways_out.append(f"Ask whoever set the limits of {names} which of them are open.")
        yield Why(words=words, ways_out=tuple(ways_out))


def _barred_from(problem: Problem, part: Part, cell: Cell) -> tuple[PersonId, ...]:
    """Return who has a way of too few movements of a gentle part, taken alone."""
    movements = [each for each in problem.catalogue.values() if each.part is part]
    return tuple(
        person
        for person in cell.people
        if sum(choice.way(person, each, problem.matrix) is not None for each in movements)
        < rules.LEAST_GENTLE_COUNT
    )


def _when(cell: Cell, problem: Problem) -> str:
    weeks = sorted({meet.week for meet in cell.meets})
    span = f"week {weeks[0]}" if len(weeks) == 1 else f"weeks {weeks[0]} to {weeks[-1]}"
    several = len(problem.cells) > len(problem.group.schedule.meetings)
    day = f"{cell.meets[0].on:%A}"
    return f"On {day}s in {span}" if several else f"On {day}s"


def _count(number: int, thing: str) -> str:
    plural = {"person": "people"}.get(thing, f"{thing}s")
    told = _NUMBERS[number] if number < len(_NUMBERS) else str(number)
    return f"{told} {thing if number == 1 else plural}"


def _names(problem: Problem, people: tuple[PersonId, ...]) -> str:
    known = {person.id: person.preferred_name for person in problem.group.people}
    names = [known[person] for person in people]
    if len(names) > _NAMED:
        return f"{', '.join(names[:_NAMED])} and {len(names) - _NAMED} more"
    return " and ".join((", ".join(names[:-1]), names[-1])) if len(names) > 1 else names[0]
