"""Laws of planning, on random groups: a plan that passes every check, or a true reason."""

import os
from dataclasses import replace

import pytest
from tests.fakes import random_groups

from halewright.core.catalogue.words import Muscle, Part
from halewright.core.people.group import Group
from halewright.core.planning import checker, problem
from halewright.core.planning.plan import Plan
from halewright.core.planning.problem import Problem
from halewright.core.planning.rules import Requirement, Settings
from halewright.core.screening.verdict import Fit
from halewright.planner import solving
from halewright.planner.solving import NoPlan, Solved
from halewright.usecases import judging, plans

pytestmark = pytest.mark.laws

COUNT = int(os.environ.get("HALEWRIGHT_LAWS", "20"))
WORK = 0.5
MORE_WORK = 10
"""For the few that have no plan in less."""
SETTINGS = Settings()


@pytest.mark.parametrize("seed", range(COUNT))
def test_every_plan_passes_the_checker_or_has_a_true_reason(seed: int) -> None:
    """Whatever the group: no breach, a bound below the cost, or a reason that holds."""
    group = random_groups.group(seed)
    answer = plans.draft(group, seed=seed, work=WORK)
    if isinstance(answer, NoPlan) and "work allowed" in answer.reason:
        answer = plans.draft(group, seed=seed, work=MORE_WORK)
    if isinstance(answer, NoPlan):
        assert answer.ways_out
        _is_true(answer, group)
        return
    assert plans.check(answer.plan, group).violations == ()
    assert answer.plan.bound is not None
    assert answer.plan.bound <= answer.plan.objective
    assert _last_resorts(answer.plan) == 0


@pytest.mark.parametrize("seed", range(COUNT // 5))
def test_last_resorts_are_the_only_breach_where_they_are_allowed(seed: int) -> None:
    """With last resorts allowed the checker names each of them and nothing else."""
    group = random_groups.group(seed)
    answer = plans.draft(group, seed=seed, work=WORK, last_resorts=True)
    if isinstance(answer, Solved):
        found = plans.check(answer.plan, group).violations
        assert {each.rule for each in found} <= {"last_resort"}
        assert bool(found) == (_last_resorts(answer.plan) > 0)


def _last_resorts(plan: Plan) -> int:
    return next(cost.points for cost in plan.costs if cost.name == "last_resort")


def _is_true(answer: NoPlan, group: Group) -> None:
    """Hold a reason against the group by other means than those that found it."""
    reason = answer.reason
    if "need" in reason and "there is none" in reason:
        _nobody_else_can(reason, group)
    elif reason.startswith("These wishes cannot be had together: "):
        told = reason.partition(": ")[2].rstrip(".").split("; ")
        assert isinstance(_freed(told, group), Solved), reason
    elif reason.startswith("A slot of"):
        minutes = next(int(word) for word in answer.ways_out[0].split() if word.isdigit())
        longer = replace(group, schedule=replace(group.schedule, slot_minutes=minutes + 15))
        other = plans.draft(longer, seed=1, work=WORK)
        assert isinstance(other, Solved) or not other.reason.startswith("A slot of")
    else:
        assert "suit everybody" in reason or "the bag holds" in reason, reason


def _nobody_else_can(reason: str, group: Group) -> None:
    """Every movement of the pattern is barred to somebody by the verdicts, or lacks bands."""
    (need,) = {
        need.name: need
        for need in (*SETTINGS.each_session, *SETTINGS.each_week)
        if f"of {need.words}," in reason
    }.values()
    ready = judging.judged(group)
    fitting = [
        movement
        for movement in ready.catalogue.values()
        if movement.part is Part.MAIN and movement.pattern in need.patterns
    ]
    assert fitting
    for movement in fitting:
        assert any(
            all(
                ready.matrix[person.id, movement.id, option.kind].fit is Fit.NOT_SUITABLE
                for option in movement.options
                if option.set_up in {"none", movement.standard.set_up}
                and (option.kind != "stronger")
            )
            or ready.matrix[person.id, movement.id, "without_band"].fit is Fit.NOT_SUITABLE
            for person in group.people
            if not ready.outcomes[person.id].undecided
        )


def _freed(told: list[str], group: Group) -> solving.Solved | NoPlan:
    """Plan without the wishes that were named: then there must be a plan."""
    ready = judging.judged(group)
    named = set(told)
    kept = {
        "each_session": _unnamed(SETTINGS.each_session, named),
        "each_week": _unnamed(SETTINGS.each_week, named),
    }
    muscles = {
        muscle for muscle in Muscle for words in told if muscle.value.replace("_", " ") in words
    }
    half = any("half the stations" in words for words in told)
    settings = replace(
        SETTINGS,
        **kept,
        least_loaded_share=0.0 if half else SETTINGS.least_loaded_share,
        major_muscles=tuple(set(SETTINGS.major_muscles) - muscles),
        most_half_sets=1000 if muscles else SETTINGS.most_half_sets,
    )
    if any("fits" in words for words in told):
        group = replace(group, schedule=replace(group.schedule, slot_minutes=120))
    shape = problem.shapes(ready.group, durations=ready.durations)[0]
    made: Problem = problem.build(
        group=group,
        catalogue=ready.catalogue,
        demands=ready.demands,
        outcomes=ready.outcomes,
        matrix=ready.matrix,
        durations=ready.durations,
        settings=settings,
        shape=shape,
    )
    answer = solving.solve(made, seed=1, work=WORK)
    if isinstance(answer, Solved):
        assert not checker.check(
            answer.plan,
            group=group,
            catalogue=ready.catalogue,
            demands=ready.demands,
            outcomes=ready.outcomes,
            matrix=ready.matrix,
            durations=ready.durations,
            settings=settings,
        )
    return answer


def _unnamed(needs: tuple[Requirement, ...], named: set[str]) -> tuple[Requirement, ...]:
    return tuple(need for need in needs if not any(need.words in words for words in named))
