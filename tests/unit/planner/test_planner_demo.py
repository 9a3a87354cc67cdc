"""The demo group's plan, held against what is published beside what the checker asks."""

from functools import cache
from importlib import resources
from pathlib import Path

from halewright.core.people.group import Group
from halewright.core.planning.plan import Plan
from halewright.core.session.outline import Purpose
from halewright.planner.solving import Solved
from halewright.usecases import groups, plans


@cache
def demo() -> tuple[Group, Plan]:
    """Return the demo group and its plan, made with little work."""
    with resources.as_file(resources.files("halewright") / "data" / "demo") as folder:
        group = groups.load(Path(folder) / "marlow-street-hall")
    answer = plans.draft(group, seed=1, work=1)
    assert isinstance(answer, Solved)
    return group, answer.plan


def test_demo_plan_passes_the_checker() -> None:
    """Twelve weeks of two days for fourteen people, without a breach and without last resorts."""
    group, plan = demo()
    assert (plan.weeks, len(group.people)) == (12, 14)
    assert plans.check(plan, group).violations == ()
    assert plan.bound is not None
    assert plan.bound <= plan.objective


def test_two_strength_days_in_every_full_week() -> None:
    """WHO 2020 (Bull et al., Br J Sports Med 54:1451): strength on two or more days a week."""
    group, plan = demo()
    off = {(day - group.schedule.starts_on).days // 7 + 1 for day in group.schedule.dates_off}
    for week in range(1, 13):
        days = {session.on for session in plan.sessions if session.week == week and session.main}
        assert len(days) >= (1 if week in off else 2)


def test_sets_rise_from_one_to_two_or_three() -> None:
    """NSCA 2019 (Fragala et al., J Strength Cond Res 33:2019): begin with 1 set, toward 2-3."""
    _, plan = demo()
    strength = [each for each in plan.sessions if each.purpose is Purpose.STRENGTH]
    assert {each.rounds for each in strength if each.week <= 2} == {1}
    full = [each.rounds for each in strength if each.week > 2 and not each.easier_week]
    assert all(2 <= rounds <= 3 for rounds in full)


def test_eight_to_ten_exercises_in_every_session() -> None:
    """NSCA 2019, table of general recommendations: 8-10 different exercises."""
    _, plan = demo()
    for session in plan.sessions:
        assert 8 <= len({station.movement for station in session.main}) <= 10
