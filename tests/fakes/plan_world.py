"""A small block made by hand that keeps every rule, to be broken on purpose, one rule at a time.

Tuesdays at 10:00 and Fridays at 14:00, six weeks from 1 December 2026 in two phases of three;
Friday 25 December is off. Week 4 is easier, week 6 is for tests. Five people:

Ada reacts to latex at once. Ben joins on 9 December, so first comes on Friday 11 (week 2,
session 2). Cat is away from 5 to 15 December and comes back on Friday 18 (week 3, session 2).
Dot has an open ask-first flag. Eve comes on Tuesdays only.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, time, timedelta
from typing import Any

from halewright.core.catalogue.movement import (
    COMMON_PRACTICE,
    BandPath,
    Catalogue,
    Declared,
    Movement,
    MovementId,
    NodeKind,
    Option,
    PathNode,
    Teaching,
    Tempo,
)
from halewright.core.catalogue.words import (
    HandSupport,
    Muscle,
    OptionKind,
    Part,
    Pattern,
    Position,
    SetUp,
    Sides,
)
from halewright.core.mechanics.demands import Demands
from halewright.core.people.group import Group, Meeting, Schedule, Venue
from halewright.core.people.kit import Band, BandLabel, Material, Shape
from halewright.core.people.person import LatexReaction, Person, PersonId, Weekday
from halewright.core.planning import checker, score
from halewright.core.planning.plan import Plan, Violation
from halewright.core.planning.rules import Settings
from halewright.core.screening.verdict import AskFirst, Fit, Matrix, Outcome, Reason, Verdict
from halewright.core.session.durations import Durations
from halewright.core.session.outline import (
    Notice,
    NoticeKind,
    Purpose,
    SessionOutline,
    Station,
    Use,
)

ADA, BEN, CAT, DOT, EVE = (PersonId(each) for each in ("ada", "ben", "cat", "dot", "eve"))
TUESDAYS = time(10, 0)
FRIDAYS = time(14, 0)
STARTS_ON = date(2026, 12, 1)
MINUTE_MS = 60_000

EVERYBODY = (ADA, BEN, CAT, DOT, EVE)
TABLE: tuple[tuple[int, int, date, Purpose, int, tuple[PersonId, ...]], ...] = (
    (1, 1, date(2026, 12, 1), Purpose.HANDLING, 1, (ADA, CAT, DOT, EVE)),
    (1, 2, date(2026, 12, 4), Purpose.STRENGTH, 1, (ADA, CAT, DOT)),
    (2, 1, date(2026, 12, 8), Purpose.STRENGTH, 1, (ADA, DOT, EVE)),
    (2, 2, date(2026, 12, 11), Purpose.STRENGTH, 1, (ADA, BEN, DOT)),
    (3, 1, date(2026, 12, 15), Purpose.STRENGTH, 2, (ADA, BEN, DOT, EVE)),
    (3, 2, date(2026, 12, 18), Purpose.STRENGTH, 2, (ADA, BEN, CAT, DOT)),
    (4, 1, date(2026, 12, 22), Purpose.STRENGTH, 1, EVERYBODY),
    (5, 1, date(2026, 12, 29), Purpose.STRENGTH, 2, EVERYBODY),
    (5, 2, date(2027, 1, 1), Purpose.STRENGTH, 2, (ADA, BEN, CAT, DOT)),
    (6, 1, date(2027, 1, 5), Purpose.TEST, 1, EVERYBODY),
    (6, 2, date(2027, 1, 8), Purpose.TEST, 1, (ADA, BEN, CAT, DOT)),
)
"""Week, number, date, purpose, rounds, who comes: counted off a calendar by hand."""

TUESDAY_ORDER = ("rise", "pull", "hip", "push", "ankle", "raise", "trunk")
FRIDAY_ORDER = ("rise", "pull", "hip", "push", "ankle", "curl", "trunk")
RENEWED = ("rise", "pull", "ankle")
"""Seven stations, of which ceil(7 / 3) = 3 are new in the second phase."""


@dataclass(frozen=True, slots=True, kw_only=True)
class World:
    """A group, its catalogue and verdicts, and a plan to be checked."""

    group: Group
    catalogue: Catalogue
    outcomes: Mapping[PersonId, Outcome]
    matrix: Matrix
    plan: Plan
    demands: Mapping[tuple[MovementId, OptionKind], Demands] = field(default_factory=dict)
    settings: Settings = field(default_factory=Settings)
    durations: Durations = field(default_factory=Durations)


Place = tuple[str, int | None, int | None, int | None, PersonId | None]


def check(world: World) -> tuple[Violation, ...]:
    """Return what the checker says of the world's plan."""
    return checker.check(
        world.plan,
        group=world.group,
        catalogue=world.catalogue,
        demands=world.demands,
        outcomes=world.outcomes,
        matrix=world.matrix,
        durations=world.durations,
        settings=world.settings,
    )


def places(world: World) -> list[Place]:
    """Return the rule and the place of every breach."""
    return [
        (each.rule, each.week, each.session, each.station, each.person) for each in check(world)
    ]


def way(kind: OptionKind, **changes: Any) -> Option:
    """Return one way of moving: seated, nothing held."""
    plain = Option(
        kind=kind,
        how="As shown.",
        position=Position.SEATED,
        set_up=SetUp.NONE,
        support=HandSupport.NONE,
        sides=Sides.BOTH,
        tempo=Tempo(out_s=2.0, hold_s=1.0, back_s=3.0),
        poses=(),
        paths=(),
        declared=Declared(),
    )
    return replace(plain, **changes)


LOOP = BandPath(nodes=(PathNode(kind=NodeKind.WRAP, at="thigh_left"),), closed=True)
STRIP = BandPath(nodes=(PathNode(kind=NodeKind.CLAMP, at="grip_left"),))

_OF: Mapping[str, tuple[Pattern, Muscle, tuple[Muscle, ...], SetUp]] = {
    "rise": (Pattern.SIT_TO_STAND, Muscle.QUADRICEPS, (Muscle.GLUTEALS,), SetUp.NONE),
    "pull": (Pattern.HORIZONTAL_PULL, Muscle.UPPER_BACK, (Muscle.BICEPS,), SetUp.IN_HANDS),
    "hip": (Pattern.HIP_ABDUCTION, Muscle.HIP_ABDUCTORS, (Muscle.GLUTEALS,), SetUp.ROUND_THIGHS),
    "push": (Pattern.PUSH, Muscle.CHEST, (Muscle.SHOULDERS,), SetUp.BEHIND_BACK),
    "ankle": (Pattern.ANKLE, Muscle.CALVES, (), SetUp.NONE),
    "raise": (Pattern.SHOULDER_RAISE, Muscle.SHOULDERS, (), SetUp.IN_HANDS),
    "curl": (Pattern.ELBOW_FLEXION, Muscle.BICEPS, (), SetUp.IN_HANDS),
    "trunk": (Pattern.TRUNK, Muscle.TRUNK, (), SetUp.NONE),
}


def main_movement(name: str) -> Movement:
    """Return a main movement such as "pull-1": its word says what it works."""
    pattern, prime, helpers, set_up = _OF[name.split("-")[0]]
    path = (LOOP,) if set_up is SetUp.ROUND_THIGHS else (STRIP,)
    rising = pattern is Pattern.SIT_TO_STAND
    shared = {
        "set_up": set_up,
        "paths": () if set_up is SetUp.NONE else path,
        "position": Position.RISING if rising else Position.SEATED,
        "declared": Declared(rises_per_rep_count=1.0 if rising else 0.0),
    }
    banded = (OptionKind.STANDARD, OptionKind.GENTLER, OptionKind.STRONGER)
    options = tuple(way(kind, **shared) for kind in banded)
    return _movement(
        name,
        part=Part.MAIN,
        pattern=pattern,
        prime_movers=(prime,),
        helper_muscles=helpers,
        options=(*options, way(OptionKind.WITHOUT_BAND)),
    )


def gentle_movement(name: str) -> Movement:
    """Return an item of the warm-up or the cool-down."""
    part = Part.WARM_UP if name.startswith("warm") else Part.COOL_DOWN
    return _movement(
        name,
        part=part,
        pattern=Pattern.MOBILITY,
        prime_movers=(),
        helper_muscles=(),
        options=(way(OptionKind.STANDARD),),
    )


def _movement(name: str, **parts: Any) -> Movement:
    safety = "Let the band go slack first."
    teaching = Teaching(
        start="", set_up="", points=(), breath="", faults=(), safety=safety, daily_life=""
    )
    shown = name.replace("-", " ").capitalize()
    return Movement(
        id=MovementId(name),
        name=shown,
        goals=(),
        teaching=teaching,
        source=COMMON_PRACTICE,
        **parts,
    )


WARM_UP = tuple(MovementId(f"warm-{number}") for number in (1, 2, 3))
COOL_DOWN = tuple(MovementId(f"cool-{number}") for number in (1, 2, 3))
SUITS = Verdict(fit=Fit.SUITABLE)
ASKED = Verdict(
    fit=Fit.NOT_SUITABLE,
    reasons=(Reason(words="Ask the doctor first.", source=COMMON_PRACTICE, incurable=True),),
)


def catalogue() -> dict[MovementId, Movement]:
    """Return four of each main movement (two a day, two a phase) and three gentle ones each."""
    mains = [main_movement(f"{word}-{number}") for word in _OF for number in (1, 2, 3, 4)]
    gentles = [gentle_movement(name) for name in (*WARM_UP, *COOL_DOWN)]
    return {movement.id: movement for movement in (*mains, *gentles)}


def matrix(movements: Catalogue) -> dict[tuple[PersonId, MovementId, OptionKind], Verdict]:
    """Return verdicts: everything suits everybody, but for Dot only what is still and bandless."""
    return {
        (person, movement.id, option.kind): ASKED
        if person == DOT and (option.set_up, option.position) != (SetUp.NONE, Position.SEATED)
        else SUITS
        for person in EVERYBODY
        for movement in movements.values()
        for option in movement.options
    }


def outcomes() -> dict[PersonId, Outcome]:
    """Return screens without a limit; Dot's has a flag that nobody has decided."""
    flag = AskFirst(
        flag="heart", words="Ask the doctor first.", reason="A new pain.", source=COMMON_PRACTICE
    )
    return {
        person: Outcome(
            person=person, limits=(), flags=(flag,) if person == DOT else (), unanswered=()
        )
        for person in EVERYBODY
    }


def group() -> Group:
    """Return the five people with ten latex-free bands of each shape."""
    people = {
        person: Person(id=person, preferred_name=person.capitalize(), latex=LatexReaction.NONE)
        for person in EVERYBODY
    }
    people[ADA] = replace(people[ADA], latex=LatexReaction.IMMEDIATE)
    people[BEN] = replace(people[BEN], joined_on=date(2026, 12, 9))
    people[CAT] = replace(people[CAT], away=((date(2026, 12, 5), date(2026, 12, 15)),))
    people[EVE] = replace(people[EVE], days=(Weekday.TUESDAY,))
    return Group(
        name="Five Chairs",
        venue=Venue(name="Weir Hall"),
        schedule=Schedule(
            starts_on=STARTS_ON,
            weeks=6,
            meetings=(
                Meeting(day=Weekday.FRIDAY, starts_at=FRIDAYS),
                Meeting(day=Weekday.TUESDAY, starts_at=TUESDAYS),
            ),
            time_zone="Europe/London",
            slot_minutes=60,
            dates_off=(date(2026, 12, 25),),
            test_weeks=(6,),
            keep_weeks=3,
        ),
        goals=(),
        people=tuple(people.values()),
        bands=tuple(
            Band(label=BandLabel(shape.value), material=Material.LATEX_FREE, shape=shape, count=10)
            for shape in Shape
        ),
    )


def order(*, week: int, number: int) -> tuple[MovementId, ...]:
    """Return a session's movements: the days share none, and the second phase renews three."""
    words = TUESDAY_ORDER if number == 1 else FRIDAY_ORDER
    variant = number
    return tuple(
        MovementId(f"{word}-{variant + 2 if week > 3 and word in RENEWED else variant}")
        for word in words
    )


def use(person: PersonId, movement: MovementId, *, week: int, number: int) -> Use:
    """Return what somebody does: as the group, but for Dot, the first time, and coming back."""
    kind = OptionKind.STANDARD
    if movement not in (*WARM_UP, *COOL_DOWN):
        first = (week, number) == (1, 1) or (person, week, number) == (BEN, 2, 2)
        if person == DOT or first:
            kind = OptionKind.WITHOUT_BAND
        elif (person, week, number) == (CAT, 3, 2):
            kind = OptionKind.GENTLER
    return Use(person=person, movement=movement, option=kind)


def sessions() -> tuple[SessionOutline, ...]:
    """Return the eleven sessions of the table."""
    return tuple(_session(*row) for row in TABLE)


def _session(
    week: int, number: int, on: date, purpose: Purpose, rounds: int, who: tuple[PersonId, ...]
) -> SessionOutline:
    def stations(movements: tuple[MovementId, ...]) -> tuple[Station, ...]:
        return tuple(
            Station(
                movement=movement,
                uses=tuple(use(person, movement, week=week, number=number) for person in who),
            )
            for movement in movements
        )

    told = [Notice(words="Not yet decided.", person=DOT, kind=NoticeKind.ASK_FIRST)]
    told += (
        [Notice(words="First time.", person=BEN, kind=NoticeKind.JOINING)]
        if (week, number) == (2, 2)
        else []
    )
    told += (
        [Notice(words="Back again.", person=CAT, kind=NoticeKind.RETURNING)]
        if (week, number) == (3, 2)
        else []
    )
    return SessionOutline(
        week=week,
        number=number,
        on=on,
        starts_at=TUESDAYS if number == 1 else FRIDAYS,
        slot_ms=60 * MINUTE_MS,
        purpose=purpose,
        rounds=rounds,
        work_ms=40_000,
        rest_ms=15_000,
        warm_up=stations(WARM_UP),
        main=stations(order(week=week, number=number)),
        cool_down=stations(COOL_DOWN),
        expected=who,
        easier_week=week == 4,
        latex_free=True,
        notices=tuple(told),
    )


def world() -> World:
    """Return the whole world, its plan scored."""
    movements = catalogue()
    plan = Plan(group="Five Chairs", seed=1, sessions=sessions(), objective=0)
    return scored(
        World(
            group=group(),
            catalogue=movements,
            outcomes=outcomes(),
            matrix=matrix(movements),
            plan=plan,
        )
    )


def scored(made: World) -> World:
    """Return the world with its plan's costs counted anew, so that only the rule meant breaks."""
    costs = score.costs(
        made.plan.sessions,
        group=made.group,
        catalogue=made.catalogue,
        outcomes=made.outcomes,
        durations=made.durations,
        settings=made.settings,
    )
    total = sum(cost.points for cost in costs)
    return replace(made, plan=replace(made.plan, costs=costs, objective=total))


def with_sessions(made: World, kept: tuple[SessionOutline, ...]) -> World:
    """Return the world with other sessions."""
    return scored(replace(made, plan=replace(made.plan, sessions=kept)))


def with_session(made: World, week: int, number: int, **changes: Any) -> World:
    """Return the world with one session changed."""
    return with_sessions(
        made,
        tuple(
            replace(each, **changes) if (each.week, each.number) == (week, number) else each
            for each in made.plan.sessions
        ),
    )


def session(made: World, week: int, number: int) -> SessionOutline:
    """Return one session of the plan."""
    return next(each for each in made.plan.sessions if (each.week, each.number) == (week, number))


def with_use(
    made: World, week: int, number: int, station: int, person: PersonId, **changes: Any
) -> World:
    """Return the world with one person's use at one main station changed."""
    main = list(session(made, week, number).main)
    main[station - 1] = replace(
        main[station - 1],
        uses=tuple(
            replace(each, **changes) if each.person == person else each
            for each in main[station - 1].uses
        ),
    )
    return with_session(made, week, number, main=tuple(main))


def with_movement(
    made: World,
    old: str,
    new: str,
    *,
    when: Callable[[SessionOutline], bool] = lambda _: True,
) -> World:
    """Return the world with a main movement exchanged for another, in everybody's uses too."""

    def swapped(station: Station) -> Station:
        if station.movement != old:
            return station
        uses = tuple(replace(each, movement=MovementId(new)) for each in station.uses)
        return Station(movement=MovementId(new), uses=uses)

    return with_sessions(
        made,
        tuple(
            replace(each, main=tuple(swapped(station) for station in each.main))
            if when(each)
            else each
            for each in made.plan.sessions
        ),
    )


def with_way(made: World, movement: str, kind: OptionKind, **changes: Any) -> World:
    """Return the world with one way of one movement changed in the catalogue."""
    old = made.catalogue[MovementId(movement)]
    options = tuple(replace(each, **changes) if each.kind is kind else each for each in old.options)
    return with_catalogue(made, replace(old, options=options))


def with_catalogue(made: World, *changed: Movement) -> World:
    """Return the world with movements added or exchanged in the catalogue."""
    movements = {**made.catalogue, **{each.id: each for each in changed}}
    verdicts = {**matrix(movements), **made.matrix}
    return scored(replace(made, catalogue=movements, matrix=verdicts))


def with_verdict(
    made: World, person: PersonId, movement: str, kind: OptionKind, verdict: Verdict
) -> World:
    """Return the world with one verdict changed."""
    key = (person, MovementId(movement), kind)
    return replace(made, matrix={**made.matrix, key: verdict})


def with_person(made: World, person: PersonId, **changes: Any) -> World:
    """Return the world with one person of the group changed."""
    people = tuple(
        replace(each, **changes) if each.id == person else each for each in made.group.people
    )
    return scored(replace(made, group=replace(made.group, people=people)))


def with_schedule(made: World, **changes: Any) -> World:
    """Return the world with the group's schedule changed."""
    schedule = replace(made.group.schedule, **changes)
    return scored(replace(made, group=replace(made.group, schedule=schedule)))


def on_days_running(made: World) -> World:
    """Return the world with Fridays moved to Wednesdays: two days running each week."""
    meetings = (
        Meeting(day=Weekday.TUESDAY, starts_at=TUESDAYS),
        Meeting(day=Weekday.WEDNESDAY, starts_at=FRIDAYS),
    )
    moved = tuple(
        replace(each, on=each.on - timedelta(days=2)) if each.number == 2 else each
        for each in made.plan.sessions
    )
    return with_schedule(
        with_sessions(made, moved), meetings=meetings, dates_off=(date(2026, 12, 23),)
    )
