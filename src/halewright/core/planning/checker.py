"""The independent checker of any plan: it knows the rules, and nothing of how a plan was made."""

import itertools
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace

from halewright.core.catalogue.movement import Catalogue, MovementId
from halewright.core.catalogue.words import OptionKind
from halewright.core.mechanics.demands import Demands
from halewright.core.people.group import Group
from halewright.core.people.person import PersonId
from halewright.core.planning import (
    checks_calendar,
    checks_ground,
    checks_sessions,
    checks_ways,
    checks_weeks,
    rules,
)
from halewright.core.planning import score as scores
from halewright.core.planning.checks_ground import Ground
from halewright.core.planning.plan import Acceptance, Plan, Violation
from halewright.core.planning.rules import Settings
from halewright.core.screening.verdict import Matrix, Outcome
from halewright.core.session.durations import Durations


def _catch_up(ground: Ground) -> Iterator[Violation]:
    yield from checks_calendar.catch_up(ground)
    yield from checks_ways.back_with_a_step_up(ground)


def _score(ground: Ground) -> Iterator[Violation]:
    """The plan's objective is what its parts come to, and its bound is no higher."""
    plan = ground.plan
    stations = [station for session in plan.sessions for station in session.main]
    if any(station.movement not in ground.catalogue for station in stations):
        return  # Told by `option`: what is not known cannot be counted.
    counted = scores.costs(
        plan.sessions,
        group=ground.group,
        catalogue=ground.catalogue,
        outcomes=ground.outcomes,
        durations=ground.durations,
        settings=ground.settings,
    )
    told = {cost.name: cost.points for cost in plan.costs}
    for cost in counted:
        if told.get(cost.name, 0) != cost.points:
            words = f"The plan gives {told.get(cost.name, 0)} points for {cost.name}; it comes to "
            yield Violation(rule="score", words=f"{words}{cost.points}.")
    total = sum(cost.points for cost in counted)
    if plan.objective != total:
        words = f"The plan's objective is given as {plan.objective}; its parts come to {total}."
        yield Violation(rule="score", words=words)
    if plan.bound is not None and plan.bound > total:
        words = f"The plan's bound of {plan.bound} is above what it comes to, {total}."
        yield Violation(rule="score", words=words)


CHECKS: Mapping[str, Callable[[Ground], Iterator[Violation]]] = {
    "calendar": checks_calendar.calendar,
    "expected": checks_calendar.expected,
    "option": checks_ways.option,
    "set_up": checks_ways.set_up,
    "last_resort": checks_ways.last_resort,
    "ask_first": checks_ways.ask_first,
    "latex": checks_ways.latex,
    "retired_band": checks_sessions.retired_band,
    "told_limit": checks_ways.told_limit,
    "chairs": checks_ways.chairs,
    "stock": checks_sessions.stock,
    "slot": checks_sessions.slot,
    "patterns": checks_sessions.patterns,
    "week_patterns": checks_weeks.week_patterns,
    "neighbours": checks_sessions.neighbours,
    "repeat": checks_sessions.repeat,
    "pattern_repeat": checks_sessions.pattern_repeat,
    "loaded": checks_sessions.loaded,
    "corridor": checks_weeks.corridor,
    "corridor_person": checks_weeks.corridor_person,
    "dose": checks_weeks.dose,
    "consecutive_days": checks_weeks.consecutive_days,
    "handling": checks_ways.handling,
    "catch_up": _catch_up,
    "tests": checks_calendar.tests,
    "shape": checks_weeks.shape,
    "stand_up": checks_ways.stand_up,
    "work": checks_sessions.work,
    "warm_up": checks_ways.warm_up,
    "score": _score,
}
"""One check for each rule of `rules.RULES`, by its name."""


def check(
    plan: Plan,
    *,
    group: Group,
    catalogue: Catalogue,
    demands: Mapping[tuple[MovementId, OptionKind], Demands],
    outcomes: Mapping[PersonId, Outcome],
    matrix: Matrix,
    durations: Durations,
    settings: Settings | None = None,
) -> tuple[Violation, ...]:
    """Return every breach of every rule, in order of week, session, station, rule and person.

    What one acceptance would cover is one violation: its sentences are then told together. A
    breach in the warm-up or cool-down has no station number; its words name the part.
    """
    ground = checks_ground.ground(
        plan,
        group=group,
        catalogue=catalogue,
        demands=demands,
        outcomes=outcomes,
        matrix=matrix,
        durations=durations,
        settings=settings or Settings(),
    )
    found = [violation for rule in rules.RULES for violation in CHECKS[rule.name](ground)]
    found.sort(key=_place)
    return tuple(_together(tuple(alike)) for _, alike in itertools.groupby(found, key=_place))


def accepted(
    violations: Sequence[Violation], acceptances: Sequence[Acceptance]
) -> tuple[tuple[Violation, ...], tuple[Acceptance, ...]]:
    """Return the violations still open, and the acceptances that are in use.

    An acceptance without a name or a reason does not count, and none covers a breach that only a
    recorded change to the person or the kit can mend.
    """
    signed = [each for each in acceptances if each.who.strip() and each.why.strip()]
    coverable = {_place(each) for each in violations if _may_be_accepted(each)}
    covering = {_place(each) for each in signed}
    still_open = tuple(
        each for each in violations if not (_may_be_accepted(each) and _place(each) in covering)
    )
    return still_open, tuple(each for each in signed if _place(each) in coverable)


def _may_be_accepted(violation: Violation) -> bool:
    rule = rules.BY_NAME.get(violation.rule)
    return not violation.incurable and not (rule is not None and rule.incurable)


def _place(found: Violation | Acceptance) -> tuple[int, int, int, str, str]:
    """Return what an acceptance is matched by; what has no number comes first."""
    return (
        found.week or 0,
        found.session or 0,
        found.station or 0,
        found.rule,
        found.person or "",
    )


def _together(alike: tuple[Violation, ...]) -> Violation:
    words = " ".join(dict.fromkeys(violation.words for violation in alike))
    incurable = any(violation.incurable for violation in alike)
    return replace(alike[0], words=words, incurable=incurable)
