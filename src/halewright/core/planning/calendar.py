"""The sessions that are actually held: when, for what, and who is expected."""

from dataclasses import dataclass, field
from datetime import date, time, timedelta

from halewright.core.people.group import Group, Meeting
from halewright.core.people.person import Person, PersonId, Weekday
from halewright.core.session.outline import Purpose

EASIER_EVERY_WEEKS = 4
"""Every fourth week is easier (common practice)."""

LEARNING_WEEKS = 2
"""Weeks in which the dose is below the full one: one set while learning (NSCA 2019: start with 1
set, work toward 2-3)."""

RETURN_AFTER_DAYS = 8
"""Away for more than a week: a step down on coming back (common practice)."""

_DAYS = list(Weekday)


@dataclass(frozen=True, slots=True, kw_only=True)
class Meet:
    """One session that is held.

    `slot` is the place of its weekday among the group's meetings, from 0; `phase` counts from 0.
    `rounds_share` says how much of the full rounds this week asks. `joining` have their first
    session with bands here, `returning` come back after an absence.
    """

    week: int
    number: int
    slot: int
    phase: int
    on: date
    starts_at: time
    purpose: Purpose
    easier: bool
    learning: bool
    expected: tuple[PersonId, ...]
    joining: frozenset[PersonId] = field(default_factory=frozenset)
    returning: frozenset[PersonId] = field(default_factory=frozenset)


def held(group: Group) -> tuple[Meet, ...]:
    """Return every session of the block in order, dates off left out."""
    meets: list[Meet] = []
    last_came: dict[PersonId, date] = {}
    for week in range(1, group.schedule.weeks + 1):
        number = 0
        for on, slot, meeting in _dated(group, week):
            if on in group.schedule.dates_off:
                continue
            number += 1
            meets.append(
                _meet(
                    group,
                    week=week,
                    number=number,
                    slot=slot,
                    on=on,
                    meeting=meeting,
                    first=not meets,
                    last_came=last_came,
                )
            )
            last_came.update(dict.fromkeys(meets[-1].expected, on))
    return tuple(meets)


def _dated(group: Group, week: int) -> list[tuple[date, int, Meeting]]:
    """Return a week's meetings by date: a week that starts on a Thursday has Friday first."""
    found = [
        (date_of(group, week=week, meeting=meeting), slot, meeting)
        for slot, meeting in enumerate(ordered(group.schedule.meetings))
    ]
    return sorted(found, key=lambda row: row[:2])


def ordered(meetings: tuple[Meeting, ...]) -> tuple[Meeting, ...]:
    """Return the weekly meetings in the order of the week."""
    return tuple(sorted(meetings, key=lambda each: (_DAYS.index(each.day), each.starts_at)))


def date_of(group: Group, *, week: int, meeting: Meeting) -> date:
    """Return the date of a weekly meeting; week 1 is the seven days from the start date."""
    start = group.schedule.starts_on
    ahead = (_DAYS.index(meeting.day) - start.weekday()) % 7
    return start + timedelta(days=ahead + 7 * (week - 1))


def comes_on(person: Person, *, day: Weekday, on: date) -> bool:
    """Whether a person is expected on a date."""
    if person.days and day not in person.days:
        return False
    if person.joined_on is not None and on < person.joined_on:
        return False
    return not any(first <= on <= last for first, last in person.away)


def is_easier(week: int) -> bool:
    """Whether a week, counted from 1, is an easier one."""
    return week % EASIER_EVERY_WEEKS == 0


def _meet(
    group: Group,
    *,
    week: int,
    number: int,
    slot: int,
    on: date,
    meeting: Meeting,
    first: bool,
    last_came: dict[PersonId, date],
) -> Meet:
    coming = [person for person in group.people if comes_on(person, day=meeting.day, on=on)]
    expected = tuple(person.id for person in coming)
    returning = {
        person.id for person in coming if _was_away(person, on=on, last=last_came.get(person.id))
    }
    return Meet(
        week=week,
        number=number,
        slot=slot,
        phase=(week - 1) // group.schedule.keep_weeks,
        on=on,
        starts_at=meeting.starts_at,
        purpose=_purpose(group, week=week, first=first),
        easier=is_easier(week) and week not in group.schedule.test_weeks,
        learning=week <= LEARNING_WEEKS,
        expected=expected,
        joining=frozenset() if first else frozenset(set(expected) - last_came.keys()),
        returning=frozenset(returning),
    )


def _purpose(group: Group, *, week: int, first: bool) -> Purpose:
    if first:
        return Purpose.HANDLING
    return Purpose.TEST if week in group.schedule.test_weeks else Purpose.STRENGTH


def _was_away(person: Person, *, on: date, last: date | None) -> bool:
    """Whether an absence of the person's own, longer than a week, ended just before this date."""
    if last is None or (on - last).days < RETURN_AFTER_DAYS:
        return False
    return any(first > last and until < on for first, until in person.away)
