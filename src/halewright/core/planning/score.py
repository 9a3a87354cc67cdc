"""What a plan costs, counted from the plan itself: the objective is the sum of these parts."""

import itertools
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from halewright.core.catalogue.movement import Catalogue, Movement
from halewright.core.catalogue.words import Muscle, OptionKind
from halewright.core.people.group import Group
from halewright.core.people.person import PersonId
from halewright.core.planning import calendar, rules
from halewright.core.planning.calendar import Meet
from halewright.core.planning.plan import Cost
from halewright.core.planning.rules import Settings
from halewright.core.screening.verdict import Outcome
from halewright.core.session import durations as lengths
from halewright.core.session.durations import Durations, State
from halewright.core.session.outline import Purpose, SessionOutline, Station, Use
from halewright.core.units import SECOND_MS


def costs(
    sessions: Sequence[SessionOutline],
    *,
    group: Group,
    catalogue: Catalogue,
    outcomes: Mapping[PersonId, Outcome],
    durations: Durations,
    settings: Settings | None = None,
) -> tuple[Cost, ...]:
    """Return every part of the objective of a block's sessions, in points."""
    settings = settings or Settings()
    weights = settings.weights
    counted = _counted(sessions, group, outcomes)
    stations = [station for session in sessions for station in session.main]
    cue_points = sum(_cue_points(station, settings) for station in counted)
    excess = sum(changeover_s(session, catalogue, durations) for session in sessions)
    uneven = unevenness(sessions, catalogue, keep_weeks=group.schedule.keep_weeks)
    distinct = len({station.movement for station in stations})
    short = max(0, variety_target(sessions) - distinct)
    resorts = sum(
        _is_resort(use, station, outcomes) for station in stations for use in station.uses
    )
    most = most_different(counted)
    unloaded = sum(not rules.is_loaded(catalogue[station.movement]) for station in stations)
    parts = (
        ("cues", cue_points, "for further ways to cue, and for the people who use them"),
        ("changeover", weights.changeover_points * excess, f"for {excess} s of changeover"),
        ("balance", weights.balance_points * uneven, "for pushing against pulling, front and back"),
        ("variety", weights.variety_points * short, f"for {short} movements too few"),
        ("goals", goal_points(sessions, group, catalogue, settings), "for goals served too little"),
        ("fairness", weights.fairness_points * most, f"for the one who is different {most} times"),
        ("load", weights.load_points * unloaded, f"for {unloaded} stations without load"),
        ("last_resort", weights.last_resort_points * resorts, f"for {resorts} last resorts"),
    )
    return tuple(Cost(name=name, points=points, words=words) for name, points, words in parts)


def _counted(
    sessions: Sequence[SessionOutline], group: Group, outcomes: Mapping[PersonId, Outcome]
) -> list[Station]:
    """Return the stations with only those uses that count as ways to cue.

    Left out are the handling session, people with an open ask-first flag, and whoever joins or
    comes back in that session: their other way is no choice of the plan.
    """
    meets = {(meet.week, meet.number): meet for meet in calendar.held(group)}
    kept = []
    for session in sessions:
        meet = meets.get((session.week, session.number))
        if session.purpose is Purpose.HANDLING:
            continue
        for station in session.main:
            uses = (
                use for use in station.uses if _counts(use.person, meet=meet, outcomes=outcomes)
            )
            kept.append(replace(station, uses=tuple(uses)))
    return kept


def _counts(person: PersonId, *, meet: Meet | None, outcomes: Mapping[PersonId, Outcome]) -> bool:
    if person in outcomes and outcomes[person].undecided:
        return False
    return meet is None or (person not in meet.joining and person not in meet.returning)


def _others(station: Station) -> list[Use]:
    """Return the uses that are not the way that the group is shown."""
    return [
        use
        for use in station.uses
        if use.option is not OptionKind.STANDARD or use.movement != station.movement
    ]


def _cue_points(station: Station, settings: Settings) -> int:
    others = _others(station)
    ways = {(use.movement, use.option) for use in others}
    weights = settings.weights
    return weights.cue_points * len(ways) + weights.different_points * len(others)


def most_different(stations: Iterable[Station]) -> int:
    """Return how often the person who most often has another way has one."""
    times = Counter(use.person for station in stations for use in _others(station))
    return max(times.values(), default=0)


def _is_resort(use: Use, station: Station, outcomes: Mapping[PersonId, Outcome]) -> bool:
    if use.person in outcomes and outcomes[use.person].undecided:
        return False
    return use.option is None or use.movement != station.movement


def excess_s(*, before: State, after: State, rest_ms: int, durations: Durations) -> int:
    """Return the whole seconds by which a changeover is longer than the rest."""
    needed_ms = lengths.changeover_ms(before=before, after=after, durations=durations)
    return max(0, needed_ms - rest_ms) // SECOND_MS


def changeover_s(session: SessionOutline, catalogue: Catalogue, durations: Durations) -> int:
    """Return the seconds of changeover beyond rest in one session, hand-out and end included."""
    states = [lengths.state_of(catalogue[station.movement].standard) for station in session.main]
    walked = states * session.rounds
    total = 0
    for before, after in itertools.pairwise(walked):
        total += excess_s(before=before, after=after, rest_ms=session.rest_ms, durations=durations)
    if walked:
        rest = lengths.REST_STATE
        total += excess_s(before=rest, after=walked[0], rest_ms=0, durations=durations)
        total += excess_s(before=walked[-1], after=rest, rest_ms=0, durations=durations)
    return total


def half_sets(movement: Movement, muscles: frozenset[Muscle]) -> int:
    """Return the half sets that some muscles get from one round of a movement."""
    prime = sum(muscle in muscles for muscle in movement.prime_movers)
    helping = sum(muscle in muscles for muscle in movement.helper_muscles)
    return rules.PRIME_HALF_SETS * prime + rules.HELPER_HALF_SETS * helping


def unevenness(sessions: Sequence[SessionOutline], catalogue: Catalogue, *, keep_weeks: int) -> int:
    """Return the half sets of one round by which phases favour one side of a balance."""
    totals: dict[tuple[int, int], int] = {}
    for session in sessions:
        phase = (session.week - 1) // keep_weeks
        for index, (one, other) in enumerate(rules.BALANCES):
            for station in session.main:
                movement = catalogue[station.movement]
                gained = half_sets(movement, one) - half_sets(movement, other)
                totals[phase, index] = totals.get((phase, index), 0) + gained
    return sum(abs(total) for total in totals.values())


def goal_points(
    sessions: Sequence[SessionOutline], group: Group, catalogue: Catalogue, settings: Settings
) -> int:
    """Return the points for each station that a goal is short of in a session.

    The first goal counts most: its weight is the number of goals, the next one's one less.
    """
    points = 0
    for place, goal in enumerate(group.goals):
        weight = len(group.goals) - place
        for session in sessions:
            served = sum(
                goal in {each.value for each in catalogue[station.movement].goals}
                for station in session.main
            )
            points += weight * max(0, rules.GOAL_STATIONS - served)
    return settings.weights.goal_points * points


def variety_target(sessions: Sequence[SessionOutline]) -> int:
    """Return the number of different main movements that a block should hold."""
    return rules.VARIETY_STATIONS * max((len(session.main) for session in sessions), default=0)
