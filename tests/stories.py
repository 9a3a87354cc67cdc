"""Story-sized groups and plans: small enough to read, with one of each thing that matters."""

from dataclasses import replace
from datetime import date, time, timedelta

from halewright.core.catalogue.movement import MovementId
from halewright.core.catalogue.words import OptionKind, Part
from halewright.core.people.group import (
    Decision,
    Group,
    LocalRule,
    Meeting,
    RawScreen,
    Schedule,
    Venue,
)
from halewright.core.people.kit import Band, BandLabel, Material, MeasuredPoint, Shape
from halewright.core.people.limits import BodySide, Limit, Measure, Strength
from halewright.core.people.person import (
    Birth,
    EmergencyContact,
    LatexReaction,
    Person,
    PersonId,
    Sex,
    Standing,
    Weekday,
)
from halewright.core.planning.plan import Cost, Plan
from halewright.core.session.outline import Notice, Purpose, SessionOutline, Station, Use
from halewright.files import movements

STARTS_ON = date(2026, 12, 1)
"""A Tuesday."""
PRIVATE_NOTE = "Pacemaker fitted in March"
"""A health note that must never be seen where it does not belong."""


def four_chairs() -> Group:
    """Return four people in one hall: one needs an answer first, one reacts to latex."""
    ada, ben, con, dot = (PersonId(key) for key in ("ada", "ben", "con", "dot"))
    return Group(
        name="Four Chairs",
        venue=Venue(
            name="Harbour Hall",
            address="2 Quay Lane, Saltby",
            entrance="side door by the ramp",
            defibrillator="in the porch",
            phone_signal="good by the window",
            chairs_with_arms=True,
        ),
        schedule=Schedule(
            starts_on=STARTS_ON,
            weeks=2,
            meetings=(
                Meeting(day=Weekday.TUESDAY, starts_at=time(18, 30)),
                Meeting(day=Weekday.THURSDAY, starts_at=time(10, 0)),
            ),
            time_zone="Europe/London",
            slot_minutes=60,
        ),
        goals=("rising", "reaching"),
        people=(
            Person(
                id=ada,
                preferred_name="Ada",
                birth=Birth(year=1948, on=date(1948, 5, 2)),
                sex=Sex.FEMALE,
                stature_m=1.58,
                mass_kg=61.0,
                latex=LatexReaction.NONE,
                standing=Standing.ONE_HAND,
                contacts=(EmergencyContact(name="Eve", relation="sister", phone="01632 960 111"),),
                notes=PRIVATE_NOTE,
                limits=(
                    Limit(
                        measure=Measure.SHOULDER_ELEVATION,
                        at_most=1.57,
                        strength=Strength.AVOID,
                        reason="Right arm no higher than the shoulder.",
                        source="Nell Byrne, physiotherapist",
                        rule="told",
                        side=BodySide.RIGHT,
                        reviewed_on=date(2026, 10, 1),
                        told_by="Nell Byrne, physiotherapist",
                    ),
                ),
            ),
            Person(id=ben, preferred_name="Ben", latex=LatexReaction.IMMEDIATE, sex=Sex.MALE),
            Person(
                id=con,
                preferred_name="Con",
                birth=Birth(year=1940),
                days=(Weekday.TUESDAY,),
                away=((date(2026, 12, 8), date(2026, 12, 9)),),
                medicines_carried="reliever inhaler, left pocket",
                latex=LatexReaction.NONE,
            ),
            Person(id=dot, preferred_name="Dot", joined_on=date(2026, 12, 8)),
        ),
        screens=(
            RawScreen(
                person=ada,
                answered_on=date(2026, 11, 2),
                completed_by="Ada herself",
                answers=(("chest_pain", "yes"),),
            ),
        ),
        decisions=(
            Decision(person=ada, flag="heart", go_ahead=True, by="Dr Okoro", on=date(2026, 11, 9)),
        ),
        bands=(
            Band(
                label=BandLabel("thin"),
                material=Material.LATEX_FREE,
                length_m=2.0,
                width_m=0.15,
                count=4,
                rank=1,
                points=(
                    MeasuredPoint(slack_length_m=1.0, stretched_length_m=1.5, reading_n=12.0),
                    MeasuredPoint(slack_length_m=1.0, stretched_length_m=2.0, reading_n=20.0),
                ),
            ),
            Band(label=BandLabel("ring"), material=Material.NOT_KNOWN, shape=Shape.LOOP),
        ),
        local_rules=(
            LocalRule(rule="band_stretch", who="Alma", why="old bands", source="ours", at_most=2.0),
        ),
    )


def plain_plan(group: Group, *, seed: int = 1) -> Plan:
    """Return a plan whose sessions all hold the same two stations in the main part."""
    catalogue = movements.shipped()
    by_part = {
        part: [key for key, movement in catalogue.items() if movement.part is part] for part in Part
    }
    schedule = group.schedule
    sessions = []
    for week in range(1, schedule.weeks + 1):
        for number, meeting in enumerate(schedule.meetings, start=1):
            begins = schedule.starts_on + timedelta(weeks=week - 1)
            shift = (list(Weekday).index(meeting.day) - begins.weekday()) % 7
            sessions.append(
                SessionOutline(
                    week=week,
                    number=number,
                    on=begins + timedelta(days=shift),
                    starts_at=meeting.starts_at,
                    slot_ms=schedule.slot_minutes * 60_000,
                    purpose=Purpose.HANDLING if (week, number) == (1, 1) else Purpose.STRENGTH,
                    rounds=2,
                    work_ms=40_000,
                    rest_ms=20_000,
                    warm_up=_stations(by_part[Part.WARM_UP][:2], group),
                    main=_stations(by_part[Part.MAIN][:6], group),
                    cool_down=_stations(by_part[Part.COOL_DOWN][:2], group),
                    expected=tuple(person.id for person in group.people),
                    notices=(Notice(words="First time with the loop.", person=PersonId("ada")),),
                )
            )
    return Plan(
        group=group.name,
        seed=seed,
        sessions=tuple(sessions),
        objective=7,
        costs=(Cost(name="variety", points=7, words="The same stations come back."),),
    )


_TURNS = (OptionKind.STANDARD,) * 4 + (OptionKind.GENTLER,) * 2 + (OptionKind.STRONGER,)


def busy_plan(group: Group, *, seed: int = 1) -> Plan:
    """Return a plan of full sessions in which half the people have a way of their own."""
    keys = {
        part: [key for key, each in movements.shipped().items() if each.part is part]
        for part in Part
    }
    plan = plain_plan(group, seed=seed)
    busy = tuple(
        replace(
            session,
            slot_ms=75 * 60_000,
            warm_up=_busy_stations(keys[Part.WARM_UP][:6], group),
            main=_busy_stations(keys[Part.MAIN][10:18], group),
            cool_down=_busy_stations(keys[Part.COOL_DOWN][:5], group),
            notices=tuple(
                Notice(words="Back after two weeks away: begin gently.", person=person.id)
                for person in group.people[:2]
            ),
        )
        for session in plan.sessions
    )
    return replace(plan, sessions=busy)


def _busy_stations(keys: list[MovementId], group: Group) -> tuple[Station, ...]:
    stations = []
    for place, key in enumerate(keys):
        kinds = {option.kind for option in movements.shipped()[key].options}
        uses = []
        for seat, person in enumerate(group.people):
            turn = _TURNS[(seat + place) % len(_TURNS)]
            care = ("Past shoulder height: within what was told.",) * ((seat + place) % 7 == 0)
            uses.append(
                Use(
                    person=person.id,
                    movement=key,
                    option=turn if turn in kinds else OptionKind.STANDARD,
                    with_care=care,
                )
            )
        stations.append(Station(movement=key, uses=tuple(uses)))
    return tuple(stations)


def _stations(keys: list[MovementId], group: Group) -> tuple[Station, ...]:
    return tuple(
        Station(
            movement=key,
            uses=tuple(
                Use(
                    person=person.id,
                    movement=key,
                    option=OptionKind.GENTLER if person.id == "ada" else OptionKind.STANDARD,
                    why="shoulder" if person.id == "ada" else "",
                )
                for person in group.people
            ),
        )
        for key in keys
    )
