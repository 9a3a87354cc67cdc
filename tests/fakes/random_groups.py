"""Random groups of invented people, as varied as halls are: seeded, so each can be had again."""

from dataclasses import replace
from datetime import date, time, timedelta
from random import Random

from tests.fakes import screening_cast as cast

from halewright.core.catalogue.words import Goal
from halewright.core.people.group import Decision, Group, Meeting, RawScreen, Schedule, Venue
from halewright.core.people.kit import Band, BandLabel, Material, Shape
from halewright.core.people.limits import Limit, Measure, Strength
from halewright.core.people.person import LatexReaction, Person, Standing, Weekday
from halewright.core.screening import questions
from halewright.core.units import radians

NAMES = (
    "Ada", "Ben", "Cora", "Dev", "Enid", "Finn", "Gwen", "Hugh", "Iris", "Jonas", "Kay", "Leo",
)  # fmt: skip
STARTS_ON = date(2027, 1, 11)
MILD = [
    question.id
    for question in questions.QUESTIONS
    if not question.red_flag and not question.id.startswith(("breathless", "ankle_sw", "calf"))
]
RED = [question.id for question in questions.QUESTIONS if question.red_flag]


def group(seed: int) -> Group:
    """Return the group of a seed."""
    dice = Random(seed)
    meetings = _meetings(dice)
    weeks = dice.randint(2, 8)
    people = [_person(dice, name, meetings, weeks) for name in NAMES[: dice.randint(2, 12)]]
    screens = [_screen(dice, person) for person in people]
    return Group(
        name=f"Random {seed}",
        venue=Venue(name="Weir Hall"),
        schedule=_schedule(dice, meetings, weeks),
        goals=tuple(goal.value for goal in dice.sample(list(Goal), dice.randint(0, 3))),
        people=tuple(people),
        screens=tuple(screens),
        decisions=_decisions(dice, screens),
        bands=_bands(dice, people),
        seated_only=dice.random() < 0.2,
    )


def _meetings(dice: Random) -> tuple[Meeting, ...]:
    days = dice.sample(list(Weekday), dice.choice((1, 2, 2, 2, 3)))
    return tuple(
        Meeting(day=day, starts_at=time(dice.randint(9, 15), dice.choice((0, 30)))) for day in days
    )


def _schedule(dice: Random, meetings: tuple[Meeting, ...], weeks: int) -> Schedule:
    every = [STARTS_ON + timedelta(days=ahead) for ahead in range(7 * weeks)]
    off = tuple(sorted(dice.sample(every, dice.randint(0, 3))))
    tests = tuple({each for each in (1, weeks) if dice.random() < 0.3})
    return Schedule(
        starts_on=STARTS_ON,
        weeks=weeks,
        meetings=meetings,
        time_zone="Europe/London",
        slot_minutes=dice.choice((15, 30, 40, 45, 45, 50, 60, 60)),
        dates_off=off,
        test_weeks=tests,
        rounds=dice.choice((None, None, None, 1, 2)),
        work_s=dice.choice((None, None, 30.0, 45.0)),
        keep_weeks=dice.choice((2, 3, 4)),
    )


def _person(dice: Random, name: str, meetings: tuple[Meeting, ...], weeks: int) -> Person:
    joined = STARTS_ON + timedelta(days=dice.randint(1, 7 * weeks - 1))
    first = STARTS_ON + timedelta(days=dice.randint(0, 7 * weeks - 1))
    away = ((first, first + timedelta(days=dice.randint(1, 14))),)
    plain = cast.person(
        name=name,
        latex=dice.choice((LatexReaction.NONE,) * 8 + (LatexReaction.IMMEDIATE,)),
        standing=dice.choice(
            (Standing.NO_SUPPORT, Standing.ONE_HAND, Standing.TWO_HANDS, Standing.SEATED_ONLY)
        ),
    )
    one_day = (dice.choice(meetings).day,) if len(meetings) > 1 and dice.random() < 0.2 else ()
    return replace(
        plain,
        days=one_day,
        joined_on=joined if dice.random() < 0.1 else None,
        away=away if dice.random() < 0.2 else (),
        limits=(_told(dice),) if dice.random() < 0.15 else (),
    )


def _told(dice: Random) -> Limit:
    measure, at_most = dice.choice(
        (
            (Measure.SHOULDER_ELEVATION, radians(90)),
            (Measure.HIP_FLEXION, radians(95)),
            (Measure.GRIP, 1.0),
            (Measure.KNEE_LOAD, 1.0),
        )
    )
    return Limit(
        measure=measure,
        at_most=at_most,
        strength=dice.choice(list(Strength)),
        reason="Told after the operation.",
        source="a letter",
        rule="told",
        told_by="Ms Rae",
    )


def _screen(dice: Random, person: Person) -> RawScreen:
    answers = {}
    for identifier in dice.sample(MILD, dice.choice((0, 0, 1, 1, 2))):
        sided = questions.BY_ID[identifier].sided
        answers[identifier] = dice.choice(("yes, left", "yes, right")) if sided else "yes"
    if dice.random() < 0.05:
        answers[dice.choice(RED)] = "yes"
    return cast.screen(name=person.preferred_name, **answers)


def _decisions(dice: Random, screens: list[RawScreen]) -> tuple[Decision, ...]:
    """Return go-aheads for most of what may be asked first."""
    return tuple(
        Decision(
            person=screen.person, flag=question, go_ahead=True, by="Dr Lind", on=date(2026, 11, 2)
        )
        for screen in screens
        for question, answer in screen.answers
        if answer.startswith("yes") and dice.random() < 0.8
    )


def _bands(dice: Random, people: list[Person]) -> tuple[Band, ...]:
    if dice.random() < 0.4:
        return ()
    material = dice.choice((Material.LATEX, Material.LATEX_FREE, Material.LATEX_FREE))
    return tuple(
        Band(
            label=BandLabel(shape.value),
            material=material,
            shape=shape,
            count=max(1, len(people) + dice.choice((-1, 0, 0, 2))),
            retired_on=STARTS_ON + timedelta(days=21) if dice.random() < 0.1 else None,
        )
        for shape in Shape
    )
