"""Checks over weeks and phases: how much, how it rises, what stays and what is renewed."""

import itertools
import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

from halewright.core.catalogue.movement import Movement
from halewright.core.catalogue.words import Muscle
from halewright.core.people.person import PersonId
from halewright.core.planning import rules
from halewright.core.planning.checks_ground import Ground, Sitting, at_session
from halewright.core.planning.plan import Violation
from halewright.core.session.outline import Purpose
from halewright.core.units import SECOND_MS

EASIER_EVERY_WEEKS = 4
"""Every fourth week is easier, unless it is a test week (common practice)."""

LEARNING_WEEKS = 2
"""The first weeks ask for less than the full dose (start with 1 set: NSCA 2019)."""

RENEWED_SHARE = 1 / 3
"""From one phase to the next at least this share of a session is new (common practice)."""

HALF_SETS_PER_SET = 2


def week_patterns(ground: Ground) -> Iterator[Violation]:
    """Every week in which all the group's sessions are held has every weekly pattern."""
    for week, sittings in _by_week(ground).items():
        held = {sitting.held.meeting for sitting in sittings if sitting.held}
        if len(held) < len(set(ground.group.schedule.meetings)):
            continue
        found = {
            movement.pattern
            for sitting in sittings
            for movement in ground.main(sitting)
            if movement is not None
        }
        for need in ground.settings.each_week:
            if not need.patterns & found:
                words = f"Week {week} has nothing for {need.words}."
                yield Violation(rule="week_patterns", words=words, week=week)


def _by_week(ground: Ground) -> dict[int, list[Sitting]]:
    weeks: dict[int, list[Sitting]] = defaultdict(list)
    for sitting in ground.sittings:
        weeks[sitting.held.week if sitting.held else sitting.outline.week].append(sitting)
    return weeks


def corridor(ground: Ground) -> Iterator[Violation]:
    """Weekly sets for each muscle group stay inside the corridor."""
    for week, sittings in _by_week(ground).items():
        done = [
            (movement, sitting.outline.rounds)
            for sitting in sittings
            for movement in ground.main(sitting)
            if movement is not None
        ]
        rounds = sum(sitting.outline.rounds for sitting in sittings)
        for fault in _outside(ground, done, rounds):
            words = f"Week {week}: {fault}."
            yield Violation(rule="corridor", words=words, week=week)


def corridor_person(ground: Ground) -> Iterator[Violation]:
    """So do they for each person, on the days they come, by what they really do."""
    for week, sittings in _by_week(ground).items():
        for person in ground.group.people:
            own = [each for each in sittings if person.id in each.outline.expected]
            if ground.undecided(person.id) or not own:
                continue
            done = [found for sitting in own for found in _done_by(ground, sitting, person.id)]
            rounds = sum(sitting.outline.rounds for sitting in own)
            for fault in _outside(ground, done, rounds):
                words = f"Week {week}, {person.preferred_name}: {fault}."
                yield Violation(rule="corridor_person", words=words, week=week, person=person.id)


def _done_by(ground: Ground, sitting: Sitting, person: PersonId) -> Iterator[tuple[Movement, int]]:
    for spot in ground.main_spots(sitting):
        use = spot.use
        if use.person == person and use.option is not None and use.movement in ground.catalogue:
            yield ground.catalogue[use.movement], sitting.outline.rounds


def _outside(ground: Ground, done: Iterable[tuple[Movement, int]], rounds: int) -> Iterator[str]:
    """Say which muscle groups get too few or too many sets for this many rounds."""
    half_sets: dict[Muscle, int] = defaultdict(int)
    for movement, times in done:
        for muscle in movement.prime_movers:
            half_sets[muscle] += rules.PRIME_HALF_SETS * times
        for muscle in movement.helper_muscles:
            half_sets[muscle] += rules.HELPER_HALF_SETS * times
    for muscle in Muscle:
        major = muscle in ground.settings.major_muscles
        least = ground.settings.least_half_sets * rounds if major else 0
        most = ground.settings.most_half_sets * rounds
        got, name = half_sets[muscle], muscle.value.replace("_", " ")
        if got < least:
            yield f"{_sets(got)} sets for {name}, at least {_sets(least)} are wanted"
        if got > most:
            yield f"{_sets(got)} sets for {name}, at most {_sets(most)} are wanted"


def _sets(half_sets: int) -> str:
    return f"{half_sets / HALF_SETS_PER_SET:g}"


def dose(ground: Ground) -> Iterator[Violation]:
    """The dose rises over the block; handling, tests and easier weeks hold back."""
    for sitting in ground.sittings:
        outline = sitting.outline
        if outline.purpose is not Purpose.STRENGTH and outline.rounds != 1:
            words = f"{sitting.words} is a {outline.purpose.value} session of more than one round."
            yield at_session("dose", sitting, words)
        week = sitting.held.week if sitting.held else outline.week
        tests = week in ground.group.schedule.test_weeks
        due = week % EASIER_EVERY_WEEKS == 0 and not tests
        if outline.easier_week is not due:
            state = "is not marked as an easier week" if due else "is marked as an easier week"
            yield at_session("dose", sitting, f"{sitting.words} {state}: every fourth is one.")
    for same_day in _by_meeting(ground).values():
        yield from _rising(ground, same_day)
        yield from _easier(same_day)


def _by_meeting(ground: Ground) -> dict[int, list[tuple[int, Sitting]]]:
    """Return each weekday's sessions with their weeks, in order."""
    found: dict[int, list[tuple[int, Sitting]]] = defaultdict(list)
    for sitting in ground.sittings:
        if sitting.held is not None:
            found[sitting.held.meeting].append((sitting.held.week, sitting))
    return {meeting: sorted(rows, key=lambda row: row[0]) for meeting, rows in found.items()}


def _phase(ground: Ground, week: int) -> int:
    return (week - 1) // ground.group.schedule.keep_weeks


def _rising(ground: Ground, same_day: Sequence[tuple[int, Sitting]]) -> Iterator[Violation]:
    """Within a phase a weekday's full sessions never fall; over the block they rise."""
    full = _full(same_day)
    for (week, before), (later, after) in itertools.pairwise(full):
        same = _phase(ground, week) == _phase(ground, later)
        if same and _volume_ms(after) < _volume_ms(before):
            words = f"{after.words}: {_told(after)} after {_told(before)}; within a phase it falls."
            yield at_session("dose", after, words)
    learning = [each for week, each in full if week <= LEARNING_WEEKS]
    later_on = [each for week, each in full if week > LEARNING_WEEKS]
    if learning and later_on and _volume_ms(later_on[-1]) <= _volume_ms(learning[0]):
        last = later_on[-1]
        words = f"{last.words}: {_told(last)}, no more than in the first weeks."
        yield at_session("dose", last, words)


def _easier(same_day: Sequence[tuple[int, Sitting]]) -> Iterator[Violation]:
    """An easier week asks for less than each full week beside it."""
    full = {week: sitting for week, sitting in _full(same_day) if week > LEARNING_WEEKS}
    for week, sitting in same_day:
        outline = sitting.outline
        if not outline.easier_week or outline.purpose is not Purpose.STRENGTH:
            continue
        beside = [full[near] for near in (week - 1, week + 1) if near in full]
        if any(_volume_ms(sitting) >= _volume_ms(other) for other in beside):
            words = f"{sitting.words} is in an easier week and asks for {_told(sitting)}: no less."
            yield at_session("dose", sitting, words)


def _full(same_day: Sequence[tuple[int, Sitting]]) -> list[tuple[int, Sitting]]:
    return [
        (week, sitting)
        for week, sitting in same_day
        if sitting.outline.purpose is Purpose.STRENGTH and not sitting.outline.easier_week
    ]


def _volume_ms(sitting: Sitting) -> int:
    return sitting.outline.rounds * sitting.outline.work_ms


def _told(sitting: Sitting) -> str:
    outline = sitting.outline
    return f"{outline.rounds} × {outline.work_ms / SECOND_MS:g} s"


def consecutive_days(ground: Ground) -> Iterator[Violation]:
    """Strength on two days running does not repeat a movement."""
    for before, after in itertools.combinations(ground.sittings, 2):
        if (after.outline.on - before.outline.on).days != 1:
            continue
        seen = {station.movement for station in before.outline.main}
        for number, station in enumerate(after.outline.main, start=1):
            if station.movement in seen:
                known = ground.catalogue.get(station.movement)
                name = known.name if known is not None else station.movement
                words = f"{after.words}, station {number}: {name} was done the day before."
                yield at_session("consecutive_days", after, words, station=number)


def shape(ground: Ground) -> Iterator[Violation]:
    """Within a phase a weekday's session keeps its shape; then part of it is renewed."""
    for same_day in _by_meeting(ground).values():
        phases = [
            [sitting for _, sitting in rows]
            for _, rows in itertools.groupby(same_day, key=lambda row: _phase(ground, row[0]))
        ]
        for sittings in phases:
            for sitting in sittings[1:]:
                if _order(sitting) != _order(sittings[0]):
                    words = (
                        f"{sitting.words} has other stations than week "
                        f"{sittings[0].outline.week}, in the same phase."
                    )
                    yield at_session("shape", sitting, words)
        for before, after in itertools.pairwise(phases):
            yield from _renewed(before[-1], after[0])


def _order(sitting: Sitting) -> tuple[str, ...]:
    return tuple(station.movement for station in sitting.outline.main)


def _renewed(before: Sitting, after: Sitting) -> Iterator[Violation]:
    old, new = set(_order(before)), set(_order(after))
    if not old or len(new) < 2:
        return
    fresh, kept = len(new - old), len(new & old)
    least = math.ceil(len(new) * RENEWED_SHARE)
    if fresh < least:
        words = (
            f"{after.words} begins a phase with {fresh} new stations; at least {least} are wanted."
        )
        yield at_session("shape", after, words)
    if kept == 0:
        words = f"{after.words} begins a phase and keeps no station of the one before."
        yield at_session("shape", after, words)
