"""Checks of the calendar: when sessions are held, who is expected, what each is for."""

from collections import Counter
from collections.abc import Iterator

from halewright.core.people.person import PersonId
from halewright.core.planning.checks_ground import DAY_NAMES, Ground, Held, Sitting, at_session
from halewright.core.planning.plan import Violation
from halewright.core.session.outline import NoticeKind, Purpose, Station
from halewright.core.units import MINUTE_MS


def calendar(ground: Ground) -> Iterator[Violation]:
    """Sessions are held on the group's days, without the dates off, each once and in order."""
    counted = Counter(sitting.held.index for sitting in ground.sittings if sitting.held)
    for held in ground.calendar:
        if counted[held.index] == 0:
            yield _missing(held)
    seen: set[int] = set()
    for sitting in ground.sittings:
        if sitting.held is None:
            words = f"{sitting.words} is on {_day(sitting)}: the group does not meet then."
            yield at_session("calendar", sitting, words)
            continue
        if sitting.held.index in seen:
            words = f"{sitting.words}: the session of {_day(sitting)} is in the plan twice."
            yield at_session("calendar", sitting, words)
        seen.add(sitting.held.index)
        yield from _details(sitting, sitting.held, ground)
    when = [(sitting.outline.on, sitting.outline.starts_at) for sitting in ground.sittings]
    if when != sorted(when):
        yield Violation(rule="calendar", words="The sessions are not in the order of their dates.")


def _missing(held: Held) -> Violation:
    return Violation(
        rule="calendar",
        words=f"Week {held.week}, session {held.number}: the group meets on "
        f"{DAY_NAMES[held.on.weekday()]} {held.on.day} {held.on:%B} and the plan has no session.",
        week=held.week,
        session=held.number,
    )


def _day(sitting: Sitting) -> str:
    on = sitting.outline.on
    return f"{DAY_NAMES[on.weekday()]} {on.day} {on:%B}"


def _details(sitting: Sitting, held: Held, ground: Ground) -> Iterator[Violation]:
    outline = sitting.outline
    if (outline.week, outline.number) != (held.week, held.number):
        words = (
            f"{sitting.words} on {_day(sitting)} is misnumbered: "
            f"it is session {held.number} of week {held.week}."
        )
        yield at_session("calendar", sitting, words)
    if outline.starts_at != held.starts_at:
        words = (
            f"{sitting.words} begins at {outline.starts_at:%H:%M}; "
            f"the group meets at {held.starts_at:%H:%M}."
        )
        yield at_session("calendar", sitting, words)
    slot_minutes = ground.group.schedule.slot_minutes
    if outline.slot_ms != slot_minutes * MINUTE_MS:
        words = (
            f"{sitting.words} has a slot of {outline.slot_ms / MINUTE_MS:g} minutes; "
            f"the group's is {slot_minutes}."
        )
        yield at_session("calendar", sitting, words)


def expected(ground: Ground) -> Iterator[Violation]:
    """Everybody expected has one thing to do at every station, and nobody else is given any."""
    for sitting in ground.sittings:
        coming = sitting.held.coming if sitting.held else frozenset(sitting.outline.expected)
        listed = Counter(sitting.outline.expected)
        for person in sorted(coming - listed.keys()):
            words = f"{sitting.words}: {ground.name(person)} comes and is not expected."
            yield at_session("expected", sitting, words, who=person)
        for person in sorted(listed.keys() - coming):
            words = f"{sitting.words}: {ground.name(person)} is expected and does not come."
            yield at_session("expected", sitting, words, who=person)
        for person in sorted(each for each, count in listed.items() if count > 1):
            words = f"{sitting.words}: {ground.name(person)} is on the list twice."
            yield at_session("expected", sitting, words, who=person)
        known = frozenset(listed.keys() | coming)
        sure = frozenset(listed.keys() & coming)
        for number, station in enumerate(sitting.outline.main, start=1):
            yield from _uses(ground, sitting, station, f"station {number}", number, known, sure)
        for part, station in sitting.gentle():
            yield from _uses(ground, sitting, station, part, None, known, sure)


def _uses(
    ground: Ground,
    sitting: Sitting,
    station: Station,
    place: str,
    number: int | None,
    known: frozenset[PersonId],
    sure: frozenset[PersonId],
) -> Iterator[Violation]:
    """Hold one station against who is expected; a wrong list is told once, not at each station."""
    given = Counter(use.person for use in station.uses)
    faults = [(person, "has nothing to do") for person in sure - given.keys()]
    faults += [
        (person, "is given something and is not expected") for person in given.keys() - known
    ]
    faults += [
        (person, "is given more than one thing") for person, count in given.items() if count > 1
    ]
    for person, fault in sorted(faults):
        words = f"{sitting.words}, {place}: {ground.name(person)} {fault}."
        yield at_session("expected", sitting, words, station=number, who=person)


def tests(ground: Ground) -> Iterator[Violation]:
    """Test weeks hold test sessions and no other week does; the first of all is for handling."""
    for sitting in ground.sittings:
        if sitting.held is None or sitting.held.index == 0:
            continue
        due = sitting.held.week in ground.group.schedule.test_weeks
        is_test = sitting.outline.purpose is Purpose.TEST
        if due and not is_test:
            words = f"{sitting.words} is in a test week and is no test session."
            yield at_session("tests", sitting, words)
        if is_test and not due:
            words = f"{sitting.words} is a test session and week {sitting.held.week} no test week."
            yield at_session("tests", sitting, words)


def catch_up(ground: Ground) -> Iterator[Violation]:
    """Whoever joins or comes back is named to the leader, and comes back without a step up."""
    for sitting in ground.sittings:
        if sitting.held is None:
            continue
        told = {(notice.person, notice.kind) for notice in sitting.outline.notices}
        for person in sorted(sitting.held.joining | sitting.held.returning):
            joins = person in sitting.held.joining
            if (person, NoticeKind.JOINING if joins else NoticeKind.RETURNING) in told:
                continue
            what = "joins" if joins else "comes back after an absence"
            words = f"{sitting.words}: {ground.name(person)} {what}, and no notice says so."
            yield at_session("catch_up", sitting, words, who=person)
