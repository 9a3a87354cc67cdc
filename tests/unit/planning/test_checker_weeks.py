"""The checker's view of weeks and phases: how much, how it rises, what stays."""

from dataclasses import replace
from datetime import date

import pytest
from tests.fakes import plan_world as worlds

from halewright.core.catalogue.movement import MovementId
from halewright.core.catalogue.words import Muscle, OptionKind, Pattern
from halewright.core.planning.plan import Cost
from halewright.core.planning.rules import Settings


def test_a_full_week_without_a_weekly_pattern_is_named() -> None:
    """Week 4 has no Friday and is not full: the trunk may be missing there, nowhere else."""
    made = worlds.world()
    changed = [
        replace(made.catalogue[MovementId(name)], pattern=Pattern.GRIP)
        for name in ("trunk-1", "trunk-2")
    ]

    found = worlds.check(worlds.with_catalogue(made, *changed))

    assert [(each.rule, each.week) for each in found] == [
        ("week_patterns", week) for week in (1, 2, 3, 5, 6)
    ]
    assert found[0].words == "Week 1 has nothing for working the trunk."


def test_too_few_weekly_sets_are_named_for_the_group_and_for_each_person() -> None:
    """Two chests in a week of two single rounds are 4 half sets; a floor of 3 a round wants 6."""
    made = worlds.world()
    asks = Settings(least_half_sets=3, major_muscles=(Muscle.CHEST,))

    found = worlds.check(replace(made, settings=asks))

    group = [each for each in found if each.rule == "corridor"]
    assert [each.week for each in group] == [1, 2, 3, 4, 5, 6]
    assert group[0].words == "Week 1: 2 sets for chest, at least 3 are wanted."
    assert {each.rule for each in found} == {"corridor", "corridor_person"}


def test_two_half_sets_a_round_are_exactly_enough() -> None:
    """A prime mover gets two half sets for each round, whatever the number of rounds."""
    enough = Settings(least_half_sets=2, major_muscles=(Muscle.CHEST, Muscle.QUADRICEPS))

    assert worlds.places(replace(worlds.world(), settings=enough)) == []


def test_too_many_weekly_sets_are_named() -> None:
    """At most one half set a round forbids every prime mover."""
    found = worlds.check(replace(worlds.world(), settings=Settings(most_half_sets=1)))

    assert {each.rule for each in found} == {"corridor", "corridor_person"}
    assert "at most 1 are wanted" in found[0].words


def test_three_half_sets_a_round_are_exactly_not_too_many() -> None:
    """Eve's Tuesdays give the shoulders most: two half sets for raising, one for pushing."""
    enough = replace(worlds.world(), settings=Settings(most_half_sets=3))
    fewer = replace(worlds.world(), settings=Settings(most_half_sets=2))

    assert worlds.places(enough) == []
    assert {each.person for each in worlds.check(fewer)} >= {worlds.EVE}


def test_a_person_is_counted_by_what_they_really_do() -> None:
    """Ada sits out the chest on Tuesday and Friday of week 2: her sets are short, not the group's.

    The two breaches of the last resort are told beside it.
    """
    made = worlds.with_use(worlds.world(), 2, 1, 4, worlds.ADA, option=None)
    made = worlds.with_use(made, 2, 2, 4, worlds.ADA, option=None)

    assert worlds.places(made) == [
        ("corridor_person", 2, None, None, worlds.ADA),
        ("last_resort", 2, 1, 4, worlds.ADA),
        ("last_resort", 2, 2, 4, worlds.ADA),
    ]


def test_a_person_is_counted_on_the_days_they_come() -> None:
    """Eve comes on Tuesdays: without a chest there her own sets are short in every week."""
    made = worlds.world()
    push = made.catalogue[MovementId("push-1")]
    # The shoulders are still worked by "raise-1"; the group has a chest on Fridays.
    grip = replace(push, prime_movers=(Muscle.FOREARMS,))
    full_weeks = worlds.with_schedule(worlds.with_catalogue(made, grip))

    found = worlds.places(full_weeks)

    assert {each[:2] for each in found if each[0] == "corridor"} == {("corridor", 4)}
    assert {each[1] for each in found if each[4] == worlds.EVE} == {1, 2, 3, 4, 5, 6}


def test_another_way_counts_and_an_undecided_person_does_not() -> None:
    """Dot has no corridor: seated mobility is all that is asked."""
    made = worlds.with_use(worlds.world(), 2, 1, 4, worlds.ADA, option=OptionKind.GENTLER)
    made = worlds.with_use(made, 2, 1, 4, worlds.DOT, option=None)

    assert worlds.places(made) == [("last_resort", 2, 1, 4, worlds.DOT)]


@pytest.mark.parametrize(("week", "number"), [(1, 1), (6, 2)])
def test_handling_and_test_sessions_have_one_round(week: int, number: int) -> None:
    """Two rounds are too many there."""
    made = worlds.with_session(worlds.world(), week, number, rounds=2)

    assert ("dose", week, number, None, None) in worlds.places(made)


def test_the_dose_does_not_fall_within_a_phase() -> None:
    """From three rounds in week 2 to two in week 3 is a fall, and week 5 never makes it up."""
    made = worlds.with_session(worlds.world(), 2, 1, rounds=3)

    assert worlds.places(made) == [("dose", 3, 1, None, None), ("dose", 5, 1, None, None)]


def test_the_dose_rises_over_the_block() -> None:
    """One round in every week, easier in week 4 by its intervals, never rises."""
    made = worlds.world()
    for week in (3, 5):
        made = worlds.with_session(made, week, 1, rounds=1)
    made = worlds.with_session(made, 4, 1, work_ms=30_000)

    assert worlds.places(made) == [("dose", 5, 1, None, None)]


def test_an_easier_week_asks_for_less_than_the_weeks_beside_it() -> None:
    """Two rounds in weeks 3, 4 and 5 leave nothing easier about week 4."""
    made = worlds.with_session(worlds.world(), 4, 1, rounds=2)

    assert worlds.places(made) == [("dose", 4, 1, None, None)]


def test_shorter_intervals_make_a_week_easier_too() -> None:
    """Two rounds of 30 seconds are less than two of 40."""
    made = worlds.with_session(worlds.world(), 4, 1, rounds=2, work_ms=30_000)

    assert worlds.places(made) == []


@pytest.mark.parametrize(("week", "easier"), [(4, False), (3, True)])
def test_every_fourth_week_is_the_easier_one(week: int, easier: bool) -> None:
    """Week 4 says so and week 3 does not."""
    made = worlds.with_session(worlds.world(), week, 1, easier_week=easier)

    assert worlds.places(made) == [("dose", week, 1, None, None)]


def test_a_test_week_is_no_easier_week() -> None:
    """With tests in week 4 its session has no mark, and the tests rule asks for tests."""
    made = worlds.with_schedule(worlds.world(), test_weeks=(4, 6))

    assert worlds.places(made) == [
        ("dose", 4, 1, None, None),
        ("tests", 4, 1, None, None),
    ]


def test_two_days_running_may_not_share_a_movement() -> None:
    """On Tuesday and Wednesday the days share nothing; one shared movement is told on the second.

    The same block on Tuesdays and Fridays may share it.
    """
    apart = worlds.with_movement(worlds.world(), "trunk-2", "trunk-1")
    running = worlds.on_days_running(worlds.world())
    shared = worlds.with_movement(running, "trunk-2", "trunk-1")

    assert worlds.places(running) == []
    assert worlds.places(apart) == []
    assert worlds.places(shared) == [
        ("consecutive_days", week, 2, 7, None) for week in (1, 2, 3, 5, 6)
    ]


def test_within_a_phase_a_weekday_keeps_its_stations() -> None:
    """One other movement in week 2 is told in week 2."""
    made = worlds.with_movement(
        worlds.world(), "trunk-1", "trunk-2", when=lambda each: each.week == 2
    )

    assert worlds.places(made) == [("shape", 2, 1, None, None)]


def test_within_a_phase_the_order_stays_too() -> None:
    """The same stations in another order are another shape."""
    made = worlds.world()
    *front, last = worlds.session(made, 3, 2).main

    assert worlds.places(worlds.with_session(made, 3, 2, main=(last, *front))) == [
        ("shape", 3, 2, None, None)
    ]


def test_a_new_phase_renews_a_third() -> None:
    """Of seven stations three are to be new (seven thirds, rounded up): two are too few."""
    made = worlds.with_movement(
        worlds.world(), "ankle-3", "ankle-1", when=lambda each: each.week > 3
    )

    found = worlds.check(made)

    assert [(each.rule, each.week, each.session) for each in found] == [("shape", 4, 1)]
    assert "2 new stations; at least 3" in found[0].words


def test_a_new_phase_keeps_something() -> None:
    """Seven new stations of seven leave nothing that people know."""
    made = worlds.world()
    for word in ("hip", "push", "raise", "trunk"):
        made = worlds.with_movement(made, f"{word}-1", f"{word}-3", when=lambda each: each.week > 3)

    assert worlds.places(made) == [("shape", 4, 1, None, None)]


def test_the_objective_is_what_its_parts_come_to() -> None:
    """A plan that calls itself better than it is, or a part of it, is told so."""
    made = worlds.world()
    true = made.plan.objective
    flattered = replace(made, plan=replace(made.plan, objective=true - 1))
    parts = (Cost(name="cues", points=-1, words=""), *made.plan.costs[1:])
    hidden = replace(made, plan=replace(made.plan, costs=parts))
    proud = replace(made, plan=replace(made.plan, bound=true + 1))

    assert true > 0
    for lying in (flattered, hidden, proud):
        assert worlds.places(lying) == [("score", None, None, None, None)]
    assert worlds.places(replace(made, plan=replace(made.plan, bound=true))) == []


def test_breaches_come_in_order_of_week_session_station_rule_and_person() -> None:
    """A leader reads from the first week on."""
    made = worlds.with_use(worlds.world(), 5, 2, 4, worlds.DOT, option=OptionKind.STANDARD)
    made = worlds.with_use(made, 5, 2, 3, worlds.ADA, option=None)
    made = worlds.with_session(made, 2, 1, rounds=2)
    made = worlds.with_person(made, worlds.ADA, away=((date(2026, 12, 8), date(2026, 12, 8)),))

    found = worlds.places(made)

    keys = [
        (week or 0, session or 0, station or 0, rule) for rule, week, session, station, _ in found
    ]
    assert keys == sorted(keys)
    assert len(found) == len(set(found))
    assert {each[0] for each in found} == {"ask_first", "dose", "expected", "last_resort"}
