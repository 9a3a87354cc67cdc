"""Small invented blocks to plan: a few people, a few movements, everything suits unless barred."""

import itertools
from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date, time, timedelta
from typing import Any

from tests.fakes import plan_world

from halewright.core.catalogue.movement import Catalogue, Movement, MovementId
from halewright.core.catalogue.words import Muscle, OptionKind, Pattern
from halewright.core.people.group import Group, Meeting, Schedule, Venue
from halewright.core.people.kit import Band
from halewright.core.people.person import LatexReaction, Person, PersonId, Weekday
from halewright.core.planning import assembly, checker, problem, score
from halewright.core.planning.plan import Plan, Violation
from halewright.core.planning.problem import Cell, Problem, Shape
from halewright.core.planning.rules import Requirement, Settings
from halewright.core.screening.verdict import AskFirst, Fit, Outcome, Reason, Verdict
from halewright.core.session.durations import Durations

MONDAY = date(2027, 3, 1)
"""A Monday."""

ANN, BOB, CYD = (PersonId(name) for name in ("ann", "bob", "cyd"))

BARRED = Verdict(
    fit=Fit.NOT_SUITABLE, reasons=(Reason(words="Her shoulder says no.", source="a letter"),)
)
CARE = Verdict(fit=Fit.WITH_CARE, reasons=(Reason(words="Watch the wrist.", source="a letter"),))

PLAIN = Settings(each_session=(), each_week=(), major_muscles=())
"""Nothing is required but what holds for every plan."""

PUSH_AND_PULL = Settings(
    each_session=(
        Requirement(name="push", words="pushing", patterns=frozenset({Pattern.PUSH})),
        Requirement(name="pull", words="pulling", patterns=frozenset({Pattern.HORIZONTAL_PULL})),
    ),
    each_week=(),
    major_muscles=(Muscle.CHEST,),
)

Bars = Iterable[tuple[str, str]]


def person(name: str, **changes: Any) -> Person:
    """Return somebody who comes on every day and reacts to nothing."""
    plain = Person(id=PersonId(name), preferred_name=name.capitalize(), latex=LatexReaction.NONE)
    return replace(plain, **changes)


def group(
    *people: Person,
    weeks: int = 1,
    days: tuple[Weekday, ...] = (Weekday.TUESDAY,),
    bands: tuple[Band, ...] = (),
    goals: tuple[str, ...] = (),
    **schedule: Any,
) -> Group:
    """Return a group of these people, or of Ann, Bob and Cyd, who meet at ten."""
    return Group(
        name="Three Chairs",
        venue=Venue(name="Weir Hall"),
        schedule=Schedule(
            starts_on=MONDAY,
            weeks=weeks,
            meetings=tuple(Meeting(day=day, starts_at=time(10, 0)) for day in days),
            time_zone="Europe/London",
            **{"slot_minutes": 45, "keep_weeks": 2, **schedule},
        ),
        goals=goals,
        people=people or (person("ann"), person("bob"), person("cyd")),
        bands=bands,
    )


def catalogue(*names: str) -> dict[MovementId, Movement]:
    """Return main movements such as "push-1" with three items each for before and after."""
    mains = [plan_world.main_movement(name) for name in sorted(names)]
    gentles = [
        plan_world.gentle_movement(name) for name in (*plan_world.WARM_UP, *plan_world.COOL_DOWN)
    ]
    return {movement.id: movement for movement in (*mains, *gentles)}


def build(
    group_: Group,
    movements: Catalogue,
    *,
    shape: Shape | None = None,
    barred: Bars = (),
    verdicts: Mapping[tuple[str, str, OptionKind], Verdict] | None = None,
    asked: Iterable[str] = (),
    **changes: Any,
) -> Problem:
    """Return a problem; `barred` pairs have no way, `asked` people an open flag."""
    no_way = set(barred)
    told = verdicts or {}
    matrix = {
        (each.id, movement.id, option.kind): told.get(
            (each.id, movement.id, option.kind),
            BARRED if (each.id, movement.id) in no_way else plan_world.SUITS,
        )
        for each in group_.people
        for movement in movements.values()
        for option in movement.options
    }
    flag = AskFirst(flag="heart", words="Ask the doctor.", reason="A pain.", source="a letter")
    asking = set(asked)
    outcomes = {
        each.id: Outcome(
            person=each.id,
            limits=(),
            flags=(flag,) if each.id in asking else (),
            unanswered=(),
        )
        for each in group_.people
    }
    return problem.build(
        group=group_,
        catalogue=movements,
        demands={},
        outcomes=outcomes,
        matrix=matrix,
        durations=Durations(),
        shape=shape,
        **{"settings": PLAIN, **changes},
    )


def check(made: Problem, plan: Plan) -> tuple[Violation, ...]:
    """Return what the independent checker says of a plan of a problem."""
    return checker.check(
        plan,
        group=made.group,
        catalogue=made.catalogue,
        demands=made.demands,
        outcomes=made.outcomes,
        matrix=made.matrix,
        durations=made.durations,
        settings=made.settings,
    )


def assembled(made: Problem, orders: Mapping[int, tuple[MovementId, ...]]) -> Plan:
    """Return the whole plan of some orders."""
    return assembly.plan(made, orders=orders, seed=0, bound=None)


def day(weeks_on: int, days_on: int) -> date:
    """Return a date so many weeks and days after the first Monday."""
    return MONDAY + timedelta(weeks=weeks_on, days=days_on)


def least(made: Problem) -> int | None:
    """Return the least objective of all plans, by trying every one; None where there is none.

    Every set of stations is tried in every cell, each in its order of least changeover among those
    that the checker's rule of neighbours allows; whole plans are judged by the checker and counted
    by `score.costs`. Nothing here is shared with the planner.
    """
    found: list[int] = []
    for combination in itertools.product(*(_sets(made, cell) for cell in made.cells)):
        orders = {cell.index: order for cell, order in zip(made.cells, combination, strict=True)}
        plan = assembled(made, orders)
        if (not found or plan.objective < min(found)) and not check(made, plan):
            found.append(plan.objective)
    return min(found, default=None)


def _sets(made: Problem, cell: Cell) -> list[tuple[MovementId, ...]]:
    mains = [each for each in made.catalogue if not each.startswith(("warm", "cool"))]
    best = []
    for chosen in itertools.combinations(mains, made.stations):
        orders = [order for order in itertools.permutations(chosen) if _apart(made, cell, order)]
        if orders:
            best.append(min(orders, key=lambda order: _changeover_s(made, cell, order)))
    return best


def _apart(made: Problem, cell: Cell, order: tuple[MovementId, ...]) -> bool:
    primes = [set(made.catalogue[each].prime_movers) for each in order]
    goes_round = any(made.rounds_of(meet) > 1 for meet in cell.meets) and len(order) > 2
    around = itertools.pairwise([*primes, primes[0]] if goes_round else primes)
    return not any(one & other for one, other in around)


def _changeover_s(made: Problem, cell: Cell, order: tuple[MovementId, ...]) -> int:
    return sum(
        score.changeover_s(
            assembly.outline(made, cell=cell, meet=meet, order=order),
            made.catalogue,
            made.durations,
        )
        for meet in cell.meets
    )
