"""From chosen stations to whole sessions: who does what, which way, and what to look out for."""

from collections.abc import Mapping
from dataclasses import dataclass

from halewright.core.catalogue.movement import Movement, MovementId
from halewright.core.catalogue.words import OptionKind, Part, Position, SetUp
from halewright.core.people.person import PersonId
from halewright.core.planning import choice, score, stock
from halewright.core.planning.calendar import Meet
from halewright.core.planning.choice import Done
from halewright.core.planning.plan import Plan
from halewright.core.planning.problem import REST_MS, Cell, Problem
from halewright.core.screening.verdict import Fit
from halewright.core.session.outline import (
    Notice,
    NoticeKind,
    Purpose,
    SessionOutline,
    Station,
    Use,
)
from halewright.core.units import MINUTE_MS

UNDECIDED = "Not yet decided: seated mobility without a band."
JOINING = "First session with bands: handling and anchor drill, no load."
RETURNING = "Back after an absence: a step down today."
NO_BANDS = "No bands are recorded for this group: check that there are enough before you start."
HANDLING = "First session with bands: hand them out, look them over, practise anchors. No load."
INSTEAD = "Last resort: no way of this station suits, so another movement of its kind."
SITS_OUT = "Last resort: no way of this station suits, so sits it out."


@dataclass(frozen=True, slots=True, kw_only=True)
class _Place:
    """Where a use stands: the problem, the session, the station and its number."""

    problem: Problem
    meet: Meet
    movement: Movement
    number: int


def plan(
    problem: Problem,
    *,
    orders: Mapping[int, tuple[MovementId, ...]],
    seed: int,
    bound: int | None,
) -> Plan:
    """Return the whole plan; `orders` gives each cell's main movements in order, by its index."""
    sessions = sorted(
        (
            outline(problem, cell=cell, meet=meet, order=orders[cell.index])
            for cell in problem.cells
            for meet in cell.meets
        ),
        key=lambda session: (session.on, session.starts_at),
    )
    parts = score.costs(
        sessions,
        group=problem.group,
        catalogue=problem.catalogue,
        outcomes=problem.outcomes,
        durations=problem.durations,
        settings=problem.settings,
    )
    total = sum(part.points for part in parts)
    return Plan(
        group=problem.group.name,
        seed=seed,
        sessions=tuple(sessions),
        objective=total,
        bound=None if bound is None else min(bound, total),
        costs=parts,
    )


def outline(
    problem: Problem, *, cell: Cell, meet: Meet, order: tuple[MovementId, ...]
) -> SessionOutline:
    """Return one session with everybody's way at every station."""
    return SessionOutline(
        week=meet.week,
        number=meet.number,
        on=meet.on,
        starts_at=meet.starts_at,
        slot_ms=problem.group.schedule.slot_minutes * MINUTE_MS,
        purpose=meet.purpose,
        rounds=problem.rounds_of(meet),
        work_ms=problem.work_ms_of(meet),
        rest_ms=REST_MS,
        warm_up=_stations(problem, meet, cell.warm_up),
        main=_stations(problem, meet, order),
        cool_down=_stations(problem, meet, cell.cool_down),
        expected=meet.expected,
        easier_week=meet.easier,
        latex_free=stock.needs_latex_free(meet, problem.group),
        notices=_notices(problem, meet),
    )


def _stations(problem: Problem, meet: Meet, order: tuple[MovementId, ...]) -> tuple[Station, ...]:
    stations = []
    for number, identifier in enumerate(order):
        place = _Place(
            problem=problem, meet=meet, movement=problem.catalogue[identifier], number=number
        )
        uses = tuple(_use(person, place) for person in meet.expected)
        stations.append(Station(movement=identifier, uses=uses))
    return tuple(stations)


def _use(person: PersonId, place: _Place) -> Use:
    problem, meet, movement = place.problem, place.meet, place.movement
    if problem.outcomes[person].undecided:
        return _mobility(person, place)
    done = choice.done(
        person, movement, meet=meet, catalogue=problem.catalogue, matrix=problem.matrix
    )
    if done.kind is None:
        return Use(person=person, movement=done.movement, option=None, why=SITS_OUT)
    found = problem.matrix[person, done.movement, done.kind]
    care = tuple(reason.words for reason in found.reasons) if found.fit is Fit.WITH_CARE else ()
    return Use(
        person=person,
        movement=done.movement,
        option=done.kind,
        with_care=care,
        why=_why(person, place, done),
    )


def _why(person: PersonId, place: _Place, done: Done) -> str:
    """Say why somebody does not do as the group is shown; "" where they do."""
    if done.is_last_resort(place.movement):
        return INSTEAD
    if place.meet.purpose is Purpose.HANDLING:
        return ""
    if person in place.meet.joining:
        return JOINING
    if person in place.meet.returning:
        return RETURNING
    return "" if done.is_as_shown(place.movement) else _why_not_standard(person, place)


def _why_not_standard(person: PersonId, place: _Place) -> str:
    found = place.problem.matrix[person, place.movement.id, OptionKind.STANDARD]
    return found.reasons[0].words if found.reasons else ""


def _mobility(person: PersonId, place: _Place) -> Use:
    """Return seated mobility without a band: of this movement where it has it, else another."""
    warm_ups = [
        movement for movement in place.problem.catalogue.values() if movement.part is Part.WARM_UP
    ]
    turned = place.number % len(warm_ups) if warm_ups else 0
    for movement in (place.movement, *warm_ups[turned:], *warm_ups[:turned]):
        for option in movement.options:
            found = place.problem.matrix[person, movement.id, option.kind]
            still = option.set_up is SetUp.NONE and option.position is Position.SEATED
            if still and found.fit is not Fit.NOT_SUITABLE:
                care = tuple(reason.words for reason in found.reasons)
                return Use(
                    person=person,
                    movement=movement.id,
                    option=option.kind,
                    with_care=care,
                    why=UNDECIDED,
                )
    return Use(person=person, movement=place.movement.id, option=None, why=UNDECIDED)


def _notices(problem: Problem, meet: Meet) -> tuple[Notice, ...]:
    found: list[Notice] = []
    if meet.purpose is Purpose.HANDLING:
        found.append(Notice(words=HANDLING, kind=NoticeKind.HANDLING))
    if not problem.group.bands:
        found.append(Notice(words=NO_BANDS, kind=NoticeKind.KIT))
    for person in meet.expected:
        found += _about(person, problem, meet)
    return tuple(found)


def _about(person: PersonId, problem: Problem, meet: Meet) -> list[Notice]:
    outcome = problem.outcomes[person]
    found = []
    if outcome.undecided:
        asks = [flag.words for flag in outcome.flags if flag.decided is not True]
        found.append(
            Notice(person=person, words=f"{UNDECIDED} {' '.join(asks)}", kind=NoticeKind.ASK_FIRST)
        )
    if person in meet.joining:
        found.append(Notice(person=person, words=JOINING, kind=NoticeKind.JOINING))
    if person in meet.returning:
        found.append(Notice(person=person, words=RETURNING, kind=NoticeKind.RETURNING))
    if outcome.unanswered:
        count = len(outcome.unanswered)
        asked = "question" if count == 1 else "questions"
        found.append(
            Notice(
                person=person,
                words=f"{count} {asked} of the health screen not answered.",
                kind=NoticeKind.UNANSWERED,
            )
        )
    return found
