"""What the checker works out for itself from a group: dates, who comes, who is new or back.

Nothing here is shared with the planner, so that a mistake on one side shows on the other.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, time, timedelta

from halewright.core.catalogue.movement import Catalogue, Movement, MovementId, Option
from halewright.core.catalogue.words import OptionKind
from halewright.core.mechanics.demands import Demands
from halewright.core.people.group import Group
from halewright.core.people.person import Person, PersonId, Weekday
from halewright.core.planning import rules
from halewright.core.planning.plan import Plan, Violation
from halewright.core.planning.rules import Settings
from halewright.core.screening.verdict import Matrix, Outcome
from halewright.core.session.durations import Durations
from halewright.core.session.outline import SessionOutline, Station, Use

WEEK_DAYS = 7

DAY_NAMES = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """One session that the group's calendar asks for.

    `meeting` is its place among the week's meetings, from 0. `joining` come here for the first
    time though the block has begun; `returning` were away for more than a week.
    """

    index: int
    week: int
    number: int
    meeting: int
    on: date
    starts_at: time
    coming: frozenset[PersonId]
    joining: frozenset[PersonId] = frozenset()
    returning: frozenset[PersonId] = frozenset()


@dataclass(frozen=True, slots=True, kw_only=True)
class Sitting:
    """One session of the plan beside the held session that it stands for, None for a stray."""

    outline: SessionOutline
    held: Held | None

    @property
    def words(self) -> str:
        """Where this is: "Week 2, session 1"."""
        return f"Week {self.outline.week}, session {self.outline.number}"

    def gentle(self) -> Iterator[tuple[str, Station]]:
        """Yield each item of the warm-up and the cool-down with the name of its part."""
        for station in self.outline.warm_up:
            yield "warm-up", station
        for station in self.outline.cool_down:
            yield "cool-down", station


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """One person's use at one station; `number` is None in the warm-up and the cool-down."""

    sitting: Sitting
    part: str
    number: int | None
    station: Station
    use: Use

    @property
    def words(self) -> str:
        """Where this is: "Week 2, session 1, station 3"."""
        place = self.part if self.number is None else f"station {self.number}"
        return f"{self.sitting.words}, {place}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """Everything a check may look at: the plan, the group's values, and what follows from them."""

    plan: Plan
    group: Group
    catalogue: Catalogue
    demands: Mapping[tuple[MovementId, OptionKind], Demands]
    outcomes: Mapping[PersonId, Outcome]
    matrix: Matrix
    durations: Durations
    settings: Settings
    calendar: tuple[Held, ...]
    sittings: tuple[Sitting, ...]
    people: Mapping[PersonId, Person] = field(default_factory=dict)

    def name(self, person: PersonId) -> str:
        """Return the name a leader knows somebody by."""
        return self.people[person].preferred_name if person in self.people else str(person)

    def undecided(self, person: PersonId) -> bool:
        """Whether somebody of the group has an open ask-first flag; no screen counts as one."""
        if person not in self.people:
            return False
        return person not in self.outcomes or self.outcomes[person].undecided

    def main(self, sitting: Sitting) -> tuple[Movement | None, ...]:
        """Return the movements of the circuit in order, None where the catalogue lacks one."""
        return tuple(self.catalogue.get(station.movement) for station in sitting.outline.main)

    def option(self, use: Use) -> Option | None:
        """Return the way that somebody uses; None where there is none or they sit it out."""
        movement = self.catalogue.get(use.movement)
        if movement is None or use.option is None:
            return None
        return next((each for each in movement.options if each.kind is use.option), None)

    def spots(self) -> Iterator[Spot]:
        """Yield every use of every station, warm-up and cool-down included."""
        for sitting in self.sittings:
            for part, station in sitting.gentle():
                for use in station.uses:
                    yield Spot(sitting=sitting, part=part, number=None, station=station, use=use)
            yield from self.main_spots(sitting)

    def main_spots(self, sitting: Sitting) -> Iterator[Spot]:
        """Yield every use of the main part of one session."""
        for number, station in enumerate(sitting.outline.main, start=1):
            for use in station.uses:
                yield Spot(sitting=sitting, part="main", number=number, station=station, use=use)


def ground(
    plan: Plan,
    *,
    group: Group,
    catalogue: Catalogue,
    demands: Mapping[tuple[MovementId, OptionKind], Demands],
    outcomes: Mapping[PersonId, Outcome],
    matrix: Matrix,
    durations: Durations,
    settings: Settings,
) -> Ground:
    """Return what the checks stand on."""
    calendar = _with_history(_held(group), group)
    return Ground(
        plan=plan,
        group=group,
        catalogue=catalogue,
        demands=demands,
        outcomes=outcomes,
        matrix=matrix,
        durations=durations,
        settings=settings,
        calendar=calendar,
        sittings=tuple(
            Sitting(outline=session, held=_match(session, calendar)) for session in plan.sessions
        ),
        people={person.id: person for person in group.people},
    )


def at_session(
    rule: str,
    sitting: Sitting,
    words: str,
    *,
    station: int | None = None,
    who: PersonId | None = None,
) -> Violation:
    """Return a breach placed in a session of the plan."""
    outline = sitting.outline
    return Violation(
        rule=rule,
        words=words,
        week=outline.week,
        session=outline.number,
        station=station,
        person=who,
        incurable=rules.BY_NAME[rule].incurable,
    )


def at_spot(rule: str, spot: Spot, words: str) -> Violation:
    """Return a breach placed at one person's use of a station."""
    return at_session(rule, spot.sitting, words, station=spot.number, who=spot.use.person)


def comes(person: Person, on: date) -> bool:
    """Whether somebody is expected on a date: their day, joined by then, and not away."""
    own_day = not person.days or tuple(Weekday)[on.weekday()] in person.days
    joined = person.joined_on is None or person.joined_on <= on
    away = any(first <= on <= last for first, last in person.away)
    return own_day and joined and not away


def _held(group: Group) -> Iterator[Held]:
    """Walk day by day through the block, from its first day on."""
    schedule = group.schedule
    by_time = sorted({(list(Weekday).index(m.day), m.starts_at) for m in schedule.meetings})
    index = 0
    for week in range(1, schedule.weeks + 1):
        number = 0
        for ahead in range(WEEK_DAYS):
            on = schedule.starts_on + timedelta(days=(week - 1) * WEEK_DAYS + ahead)
            for meeting, (day, starts_at) in enumerate(by_time):
                if day != on.weekday() or on in schedule.dates_off:
                    continue
                number += 1
                yield Held(
                    index=index,
                    week=week,
                    number=number,
                    meeting=meeting,
                    on=on,
                    starts_at=starts_at,
                    coming=frozenset(each.id for each in group.people if comes(each, on)),
                )
                index += 1


def _with_history(calendar: Iterator[Held], group: Group) -> tuple[Held, ...]:
    """Add who joins and who comes back, from the sessions before."""
    past: list[Held] = []
    for held in calendar:
        joining, returning = set(), set()
        for person in group.people:
            if person.id not in held.coming:
                continue
            visits = [each.on for each in past if person.id in each.coming]
            if past and not visits:
                joining.add(person.id)
            elif visits and _back(person, last=visits[-1], on=held.on):
                returning.add(person.id)
        past.append(
            Held(
                index=held.index,
                week=held.week,
                number=held.number,
                meeting=held.meeting,
                on=held.on,
                starts_at=held.starts_at,
                coming=held.coming,
                joining=frozenset(joining),
                returning=frozenset(returning),
            )
        )
    return tuple(past)


def _back(person: Person, *, last: date, on: date) -> bool:
    """Whether more than a week lies between two visits and an absence of their own in it."""
    long = on - last > timedelta(days=WEEK_DAYS)
    return long and any(last < first and until < on for first, until in person.away)


def _match(session: SessionOutline, calendar: tuple[Held, ...]) -> Held | None:
    """Return the held session of that date, by its time where a day has two."""
    same_day = [held for held in calendar if held.on == session.on]
    exact = [held for held in same_day if held.starts_at == session.starts_at]
    if exact:
        return exact[0]
    return same_day[0] if len(same_day) == 1 else None
