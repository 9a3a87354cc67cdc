"""The planning problem: a group's block with people turned into constants, no solver in sight."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from halewright.core.catalogue.movement import Catalogue, Movement, MovementId
from halewright.core.catalogue.words import OptionKind, Part, SetUp, Sides
from halewright.core.mechanics.demands import Demands
from halewright.core.people.group import Group
from halewright.core.people.person import PersonId
from halewright.core.planning import calendar, choice, gentle, stock
from halewright.core.planning.calendar import Meet
from halewright.core.planning.rules import Settings
from halewright.core.screening.verdict import Matrix, Outcome
from halewright.core.session.durations import Durations
from halewright.core.session.outline import Purpose
from halewright.core.units import MINUTE_MS, SECOND_MS

DEFAULT_WORK_S = 40.0
REST_MS = 15 * SECOND_MS
"""The least time between two work intervals; stations alternate the muscles (common practice)."""

_SHAPES = ((3, 8), (3, 7), (2, 9), (2, 8), (2, 7), (2, 6), (1, 8), (1, 6), (1, 5), (1, 4))
"""Rounds and stations to try for "choose for me", the most wanted first (common practice)."""

_EACH_SIDE_SHARE = 0.35
_CHANGE_SHARE = 0.5
_USUAL_CHANGE_MS = 22 * SECOND_MS


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One movement in one cell: what it costs and who would do it another way.

    `cue_points` sums over the cell's sessions; `different` counts, for each person, the sessions
    in which they would be the one with another way. `resorts` counts the last resorts it needs.
    """

    cue_points: int
    different: Mapping[PersonId, int]
    resorts: int = 0


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
    """Everything the planner needs. `stations` is the number in each session's circuit."""

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

    def rounds_of(self, meet: Meet) -> int:
        """Return the rounds of one session: fewer while learning and in an easier week."""
        return rounds_of(meet, full=self.rounds)


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
) -> Problem:
    """Return the problem of a group's block."""
    settings = settings or Settings()
    meets = calendar.held(group)
    work_ms = round((group.schedule.work_s or DEFAULT_WORK_S) * SECOND_MS)
    rounds, stations = shape(group, work_ms=work_ms, durations=durations)
    cells: list[Cell] = []
    for phase, slot in sorted({(meet.phase, meet.slot) for meet in meets}):
        own = tuple(meet for meet in meets if (meet.phase, meet.slot) == (phase, slot))
        cells.append(_cell(len(cells), own, group, catalogue, outcomes, matrix, settings))
    return Problem(
        group=group,
        catalogue=catalogue,
        demands=demands,
        outcomes=outcomes,
        matrix=matrix,
        durations=durations,
        meets=meets,
        cells=tuple(cells),
        stations=stations,
        rounds=rounds,
        work_ms=work_ms,
        settings=settings,
    )


def shape(group: Group, *, work_ms: int, durations: Durations) -> tuple[int, int]:
    """Return the full number of rounds and the number of stations that fit the slot."""
    slot_ms = group.schedule.slot_minutes * MINUTE_MS
    usable = slot_ms - round(slot_ms * durations.slack_share)
    wanted = [pair for pair in _SHAPES if group.schedule.rounds in (None, pair[0])]
    for rounds, stations in wanted:
        if _rough_ms(rounds, stations, work_ms, durations) <= usable:
            return rounds, stations
    return wanted[-1] if wanted else (group.schedule.rounds or 1, 4)


def _rough_ms(rounds: int, stations: int, work_ms: int, durations: Durations) -> int:
    """Estimate a session's length before its stations are known."""
    gap = REST_MS + round(_CHANGE_SHARE * max(0, _USUAL_CHANGE_MS - REST_MS))
    each_side = round(_EACH_SIDE_SHARE * (work_ms + durations.swap_sides_ms))
    circuit = rounds * stations * (work_ms + each_side + gap) + stations * durations.explain_ms
    return circuit + fixed_ms(rounds=rounds, durations=durations)


def fixed_ms(*, rounds: int, durations: Durations) -> int:
    """Return what a session takes beside its circuit, with the usual warm-up and cool-down."""
    gentle_ms = gentle.WARM_UP_COUNT * durations.warm_up_item_ms
    gentle_ms += gentle.COOL_DOWN_COUNT * 2 * durations.cool_down_side_ms
    around = durations.welcome_ms + durations.rise_check_ms + durations.close_ms
    bands = durations.get_ready_ms + durations.hand_out_ms + durations.bands_down_ms
    return gentle_ms + around + bands + rounds * durations.water_ms


def _cell(
    index: int,
    meets: tuple[Meet, ...],
    group: Group,
    catalogue: Catalogue,
    outcomes: Mapping[PersonId, Outcome],
    matrix: Matrix,
    settings: Settings,
) -> Cell:
    coming = {person for meet in meets for person in meet.expected}
    people = tuple(person.id for person in group.people if person.id in coming)
    decided = tuple(person for person in people if not outcomes[person].undecided)
    turn = meets[0].phase * len(group.schedule.meetings) + meets[0].slot
    parts = {
        part: gentle.chosen(part=part, people=people, catalogue=catalogue, matrix=matrix, turn=turn)
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
            and (found := _choice(movement, meets, decided, group, matrix, settings)) is not None
        },
        warm_up=parts[Part.WARM_UP],
        cool_down=parts[Part.COOL_DOWN],
    )


def _choice(
    movement: Movement,
    meets: tuple[Meet, ...],
    decided: tuple[PersonId, ...],
    group: Group,
    matrix: Matrix,
    settings: Settings,
) -> Choice | None:
    """Return what a movement costs in a cell, or None where it cannot stand there."""
    ways = {person: choice.way(person, movement, matrix) for person in decided}
    if any(kind is None for kind in ways.values()):
        return None
    if not all(stock.suffices(movement, meet=meet, group=group) for meet in meets):
        return None
    if any(_no_handling(movement, meet, decided, matrix) for meet in meets):
        return None
    points = 0
    different: dict[PersonId, int] = {}
    for meet in meets:
        others = [
            (person, ways[person])
            for person in decided
            if counts_as_different(person, meet) and ways[person] is not OptionKind.STANDARD
        ]
        points += settings.weights.cue_points * len({kind for _, kind in others})
        points += settings.weights.different_points * len(others)
        for person, _ in others:
            different[person] = different.get(person, 0) + 1
    return Choice(cue_points=points, different=different)


def counts_as_different(person: PersonId, meet: Meet) -> bool:
    """Whether a person's other way in a session counts: not while handling or catching up."""
    if meet.purpose is Purpose.HANDLING or person not in meet.expected:
        return False
    return person not in meet.joining and person not in meet.returning


def _no_handling(
    movement: Movement, meet: Meet, decided: tuple[PersonId, ...], matrix: Matrix
) -> bool:
    """Whether somebody whose first session this is has no way of it without load."""
    if movement.standard.set_up is SetUp.NONE:
        return False
    first = meet.expected if meet.purpose is Purpose.HANDLING else tuple(meet.joining)
    return any(
        choice.unloaded(person, movement, matrix) is None for person in first if person in decided
    )


def work_of_ms(movement: Movement, *, work_ms: int, durations: Durations) -> int:
    """Return the time of one station in one round, both sides and the swap included."""
    if movement.standard.sides is Sides.EACH:
        return 2 * work_ms + durations.swap_sides_ms
    return work_ms
