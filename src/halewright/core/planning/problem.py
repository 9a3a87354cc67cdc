"""The planning problem: a group's block with people turned into constants, no solver in sight."""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from halewright.core.catalogue.movement import (
    COMMON_PRACTICE,
    Catalogue,
    Movement,
    MovementId,
)
from halewright.core.catalogue.words import OptionKind, Part, Position, Sides
from halewright.core.mechanics.demands import Demands
from halewright.core.people.group import Group
from halewright.core.people.person import PersonId
from halewright.core.planning import calendar, choice, gentle, stock
from halewright.core.planning.calendar import Meet
from halewright.core.planning.choice import Done
from halewright.core.planning.rules import Settings
from halewright.core.screening.verdict import Fit, Matrix, Outcome, Reason, Verdict
from halewright.core.session.durations import Durations
from halewright.core.session.outline import Purpose
from halewright.core.units import MINUTE_MS, SECOND_MS

DEFAULT_WORK_S = 40.0
HELD_BACK_SHARE = 0.75
"""The work interval of a learning or easier week where rounds cannot fall (common practice)."""
REST_MS = 15 * SECOND_MS
"""The least time between two work intervals; stations alternate the muscles (common practice)."""

_SHAPES = ((3, 8), (2, 9), (2, 8), (3, 7), (2, 7), (2, 6), (2, 5), (1, 8), (1, 6), (1, 5), (1, 4))
"""Rounds and stations to try for "choose for me", the most wanted first: two rounds before many
stations, because the dose rises from one set to two or three (NSCA 2019); eight or nine stations
before a third round (8-10 exercises, NSCA 2019); the rest is common practice."""

MOST_ROUNDS_COUNT = 3
WORK_BELOW_S = 60.0
"""A work interval is under a minute, in one to three rounds (common practice)."""

MOST_LAST_RESORT_PEOPLE_COUNT = 2
"""Where last resorts are allowed, at most so many people may need one at a station (common
practice: a leader can look after two people who do something else)."""

_EACH_SIDE_SHARE = 0.25
_CHANGE_SHARE = 0.5
_USUAL_CHANGE_MS = 22 * SECOND_MS
"""For an estimate only, seen in plans of the demo groups: so many stations take a side at a time,
and so many changes of set-up are longer than the rest, by so much."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """The full number of rounds and the number of stations of every session."""

    rounds: int
    stations: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One movement in one cell: what it costs and who would do it another way.

    `cue_points` sums over the cell's sessions; `different` counts, for each person, the sessions
    in which they would be the one with another way. `resorts` counts the last resorts it needs and
    `instead` says what they are, by person and date: another movement, or None for sitting out.
    """

    cue_points: int
    different: Mapping[PersonId, int]
    resorts: int = 0
    instead: Mapping[tuple[PersonId, date], MovementId | None] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """A weekday's session in one phase: it keeps its stations over `meets` while rounds rise."""

    index: int
    phase: int
    slot: int
    meets: tuple[Meet, ...]
    people: tuple[PersonId, ...]
    choices: Mapping[MovementId, Choice]
    warm_up: tuple[MovementId, ...]
    cool_down: tuple[MovementId, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """Everything the planner needs. `stations` is the number in each session's circuit.

    `last_resorts` says whether a movement may stand where one or two people have no way of it.
    """

    group: Group
    catalogue: Catalogue
    demands: Mapping[tuple[MovementId, OptionKind], Demands]
    outcomes: Mapping[PersonId, Outcome]
    matrix: Matrix
    durations: Durations
    meets: tuple[Meet, ...]
    cells: tuple[Cell, ...]
    stations: int
    rounds: int
    work_ms: int
    settings: Settings = field(default_factory=Settings)
    last_resorts: bool = False

    def decided(self, meet: Meet) -> tuple[PersonId, ...]:
        """Return who is expected and has no open ask-first flag: those a station must suit."""
        return tuple(each for each in meet.expected if not self.outcomes[each].undecided)

    def rounds_of(self, meet: Meet) -> int:
        """Return the rounds of one session: fewer while learning and in an easier week."""
        return rounds_of(meet, full=self.rounds)

    def work_ms_of(self, meet: Meet) -> int:
        """Return the work interval of one session.

        Where there is one round alone, the dose is held back by shorter intervals instead.
        """
        held_back = meet.purpose is Purpose.STRENGTH and (meet.easier or meet.learning)
        if self.rounds > 1 or not held_back:
            return self.work_ms
        return round(self.work_ms * HELD_BACK_SHARE / SECOND_MS) * SECOND_MS


def rounds_of(meet: Meet, *, full: int) -> int:
    """Return a session's rounds, given the full number."""
    if meet.purpose is not Purpose.STRENGTH:
        return 1
    return max(1, full - 1) if meet.easier or meet.learning else full


def build(
    *,
    group: Group,
    catalogue: Catalogue,
    demands: Mapping[tuple[MovementId, OptionKind], Demands],
    outcomes: Mapping[PersonId, Outcome],
    matrix: Matrix,
    durations: Durations,
    settings: Settings | None = None,
    shape: Shape | None = None,
    allow_last_resorts: bool = False,
) -> Problem:
    """Return the problem of a group's block.

    `shape` None takes the first of `shapes`. With `allow_last_resorts` a movement may stand where
    one or two people have no way of it; they do another of its pattern, or sit it out.
    """
    chosen = shape or shapes(group, durations=durations)[0]
    bare = Problem(
        group=group,
        catalogue=catalogue,
        demands=demands,
        outcomes=outcomes,
        matrix=_seated(matrix, catalogue) if group.seated_only else matrix,
        durations=durations,
        meets=calendar.held(group),
        cells=(),
        stations=chosen.stations,
        rounds=chosen.rounds,
        work_ms=work_interval_ms(group),
        settings=settings or Settings(),
        last_resorts=allow_last_resorts,
    )
    return replace(bare, cells=tuple(_cells(bare)))


def _seated(matrix: Matrix, catalogue: Catalogue) -> Matrix:
    """Return the verdicts of a group in which nobody stands, whoever comes."""
    nobody = Verdict(
        fit=Fit.NOT_SUITABLE,
        reasons=(Reason(words="Nobody stands in this group.", source=COMMON_PRACTICE),),
    )
    return {
        (person, movement, kind): verdict
        if catalogue[movement].option(kind).position is Position.SEATED
        else nobody
        for (person, movement, kind), verdict in matrix.items()
    }


def with_last_resorts(problem: Problem) -> Problem:
    """Return the same problem with last resorts allowed."""
    loosened = replace(problem, last_resorts=True, cells=())
    return replace(loosened, cells=tuple(_cells(loosened)))


def with_bands_enough(problem: Problem) -> Problem:
    """Return the same problem as if the bag held whatever is needed."""
    filled = replace(problem, group=replace(problem.group, bands=()), cells=())
    return replace(filled, cells=tuple(_cells(filled)))


def work_interval_ms(group: Group) -> int:
    """Return the group's work interval, or the usual one for "choose for me"."""
    return round((group.schedule.work_s or DEFAULT_WORK_S) * SECOND_MS)


def shapes(group: Group, *, durations: Durations) -> tuple[Shape, ...]:
    """Return the shapes that roughly fit the slot, the most wanted first; at least one."""
    slot_ms = group.schedule.slot_minutes * MINUTE_MS
    usable = slot_ms - round(slot_ms * durations.slack_share)
    work_ms = work_interval_ms(group)
    asked = group.schedule.rounds
    wanted = [Shape(rounds=rounds, stations=stations) for rounds, stations in _SHAPES]
    wanted = [shape for shape in wanted if asked in (None, shape.rounds)]
    wanted = wanted or [Shape(rounds=asked or 1, stations=_SHAPES[-1][1])]
    fitting = [
        shape for shape in wanted if rough_ms(shape, work_ms=work_ms, durations=durations) <= usable
    ]
    return tuple(fitting or wanted[-1:])


def rough_ms(shape: Shape, *, work_ms: int, durations: Durations) -> int:
    """Estimate a session's length before its stations are known."""
    gap = REST_MS + round(_CHANGE_SHARE * max(0, _USUAL_CHANGE_MS - REST_MS))
    each_side = round(_EACH_SIDE_SHARE * (work_ms + durations.swap_sides_ms))
    circuit = shape.rounds * shape.stations * (work_ms + each_side + gap)
    circuit += shape.stations * durations.explain_ms
    return circuit + fixed_ms(rounds=shape.rounds, durations=durations)


def fixed_ms(*, rounds: int, durations: Durations) -> int:
    """Return what a session takes beside its circuit, with the usual warm-up and cool-down."""
    gentle_ms = gentle.WARM_UP_COUNT * durations.warm_up_item_ms
    gentle_ms += gentle.COOL_DOWN_COUNT * 2 * durations.cool_down_side_ms
    around = durations.welcome_ms + durations.rise_check_ms + durations.close_ms
    bands = durations.get_ready_ms + durations.hand_out_ms + durations.bands_down_ms
    return gentle_ms + around + bands + rounds * durations.water_ms


def _cells(problem: Problem) -> Iterator[Cell]:
    meets = problem.meets
    for index, (phase, slot) in enumerate(sorted({(meet.phase, meet.slot) for meet in meets})):
        own = tuple(meet for meet in meets if (meet.phase, meet.slot) == (phase, slot))
        yield _cell(problem, index=index, meets=own)


def _cell(problem: Problem, *, index: int, meets: tuple[Meet, ...]) -> Cell:
    group, catalogue = problem.group, problem.catalogue
    coming = {person for meet in meets for person in meet.expected}
    people = tuple(person.id for person in group.people if person.id in coming)
    turn = meets[0].phase * len(group.schedule.meetings) + meets[0].slot
    parts = {
        part: gentle.chosen(
            part=part, people=people, catalogue=catalogue, matrix=problem.matrix, turn=turn
        )
        for part in (Part.WARM_UP, Part.COOL_DOWN)
    }
    return Cell(
        index=index,
        phase=meets[0].phase,
        slot=meets[0].slot,
        meets=meets,
        people=people,
        choices={
            movement.id: found
            for movement in catalogue.values()
            if movement.part is Part.MAIN
            and (found := _choice(problem, movement, meets)) is not None
        },
        warm_up=parts[Part.WARM_UP],
        cool_down=parts[Part.COOL_DOWN],
    )


def _choice(problem: Problem, movement: Movement, meets: tuple[Meet, ...]) -> Choice | None:
    """Return what a movement costs in a cell, or None where it cannot stand there."""
    if not all(stock.suffices(movement, meet=meet, group=problem.group) for meet in meets):
        return None
    if movement.standard.needs_chair_arms and not problem.group.venue.chairs_with_arms:
        return None
    weights = problem.settings.weights
    points = 0
    different: Counter[PersonId] = Counter()
    instead: dict[tuple[PersonId, date], MovementId | None] = {}
    for meet in meets:
        ways = set()
        for person, done in doings(problem, movement, meet).items():
            if done.is_last_resort(movement):
                instead[person, meet.on] = None if done.kind is None else done.movement
            if counts_as_different(person, meet) and not done.is_as_shown(movement):
                ways.add(done)
                different[person] += 1
                points += weights.different_points
        points += weights.cue_points * len(ways)
    needing = {person for person, _ in instead}
    if len(needing) > (MOST_LAST_RESORT_PEOPLE_COUNT if problem.last_resorts else 0):
        return None
    return Choice(cue_points=points, different=different, resorts=len(instead), instead=instead)


def doings(problem: Problem, movement: Movement, meet: Meet) -> Mapping[PersonId, Done]:
    """Return what everybody decided would do at a station in a session, last resorts included."""
    return {
        person: choice.done(
            person, movement, meet=meet, catalogue=problem.catalogue, matrix=problem.matrix
        )
        for person in problem.decided(meet)
    }


def in_need(problem: Problem, movement: Movement, cell: Cell) -> tuple[PersonId, ...]:
    """Return who of a cell would need a last resort at a movement, in the group's order."""
    found = {
        person
        for meet in cell.meets
        for person, done in doings(problem, movement, meet).items()
        if done.is_last_resort(movement)
    }
    return tuple(person for person in cell.people if person in found)


def counts_as_different(person: PersonId, meet: Meet) -> bool:
    """Whether a person's other way in a session counts: not while handling or catching up."""
    if meet.purpose is Purpose.HANDLING or person not in meet.expected:
        return False
    return person not in meet.joining and person not in meet.returning


def work_of_ms(movement: Movement, *, work_ms: int, durations: Durations) -> int:
    """Return the time of one station in one round, both sides and the swap included."""
    if movement.standard.sides is Sides.EACH:
        return 2 * work_ms + durations.swap_sides_ms
    return work_ms
