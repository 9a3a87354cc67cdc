"""The checker's calendar: dates, who is expected, what each session is for."""

from dataclasses import replace
from datetime import date, time

from tests.fakes import plan_world as worlds

from halewright.core.catalogue.words import OptionKind
from halewright.core.planning import checker, rules
from halewright.core.session.outline import Purpose, Station, Use


def test_a_sound_plan_has_no_breach() -> None:
    """The hand-made block keeps every rule; all the tests of the checker stand on this."""
    assert worlds.check(worlds.world()) == ()


def test_every_rule_has_its_check() -> None:
    """No rule is without a check, and no check without a rule."""
    assert set(checker.CHECKS) == set(rules.BY_NAME)


def test_a_missing_session_is_named() -> None:
    """A day on which the group meets and the plan has nothing is a breach at that day."""
    made = worlds.world()
    kept = tuple(each for each in made.plan.sessions if (each.week, each.number) != (2, 1))

    found = worlds.check(worlds.with_sessions(made, kept))

    assert [(each.rule, each.week, each.session) for each in found] == [("calendar", 2, 1)]
    assert "Tuesday 8 December" in found[0].words


def test_a_session_on_a_date_off_is_a_stray() -> None:
    """25 December is off: a session on it is named, and the week's numbers stay as they were."""
    made = worlds.world()
    friday = replace(worlds.session(made, 5, 2), week=4, on=date(2026, 12, 25), easier_week=True)
    kept = [*made.plan.sessions, replace(friday, rounds=1)]
    kept.sort(key=lambda each: each.on)

    found = worlds.check(worlds.with_sessions(made, tuple(kept)))

    assert [(each.rule, each.week, each.session) for each in found] == [("calendar", 4, 2)]
    assert "does not meet" in found[0].words


def test_a_session_held_twice_is_named() -> None:
    """Each date has its session once."""
    made = worlds.world()
    twice = (*made.plan.sessions[:1], *made.plan.sessions)

    found = worlds.check(worlds.with_sessions(made, twice))

    assert ("calendar", 1, 1) in [(each.rule, each.week, each.session) for each in found]
    assert any("twice" in each.words for each in found if each.rule == "calendar")


def test_a_wrong_number_time_or_slot_is_named() -> None:
    """Week and number, the hour and the length of the slot are the group's."""
    made = worlds.world()

    late = worlds.with_session(made, 2, 1, starts_at=time(11, 0))
    long = worlds.with_session(made, 2, 1, slot_ms=90 * worlds.MINUTE_MS)
    misnumbered = worlds.with_sessions(
        made,
        tuple(
            replace(each, number=3) if (each.week, each.number) == (2, 1) else each
            for each in made.plan.sessions
        ),
    )

    assert worlds.places(late) == [("calendar", 2, 1, None, None)]
    assert "begins at 11:00; the group meets at 10:00" in worlds.check(late)[0].words
    assert worlds.places(long) == [("calendar", 2, 1, None, None)]
    assert worlds.places(misnumbered) == [("calendar", 2, 3, None, None)]


def test_sessions_out_of_order_are_named() -> None:
    """A plan lists its sessions in the order of their dates."""
    made = worlds.world()
    one, two, *rest = made.plan.sessions

    found = worlds.places(worlds.with_sessions(made, (two, one, *rest)))

    assert found == [("calendar", None, None, None, None)]


def test_a_day_moved_in_the_group_makes_the_old_plan_wrong() -> None:
    """Moving Fridays to Wednesdays leaves five strays and five sessions missing."""
    moved = worlds.on_days_running(worlds.world())
    old = worlds.with_sessions(moved, worlds.world().plan.sessions)

    strays = [each for each in worlds.check(old) if "does not meet" in each.words]

    assert [(each.week, each.session) for each in strays] == [(w, 2) for w in (1, 2, 3, 5, 6)]


def test_whoever_comes_and_is_not_expected_is_named_once() -> None:
    """Somebody left off the list is told for the session, not at each of its thirteen stations."""
    made = worlds.world()
    whole = worlds.session(made, 2, 1)

    def without(stations: tuple[Station, ...]) -> tuple[Station, ...]:
        return tuple(
            replace(each, uses=tuple(use for use in each.uses if use.person != worlds.EVE))
            for each in stations
        )

    left_out = worlds.with_session(
        made,
        2,
        1,
        expected=(worlds.ADA, worlds.DOT),
        warm_up=without(whole.warm_up),
        main=without(whole.main),
        cool_down=without(whole.cool_down),
    )

    assert worlds.places(left_out) == [("expected", 2, 1, None, worlds.EVE)]


def test_somebody_away_is_not_expected() -> None:
    """Told that Ada is away on 8 December, a plan that expects her then is wrong."""
    away = ((date(2026, 12, 8), date(2026, 12, 8)),)

    found = worlds.places(worlds.with_person(worlds.world(), worlds.ADA, away=away))

    assert found == [("expected", 2, 1, None, worlds.ADA)]


def test_somebody_listed_twice_is_named() -> None:
    """Each name stands once on the list."""
    made = worlds.world()
    names = worlds.session(made, 2, 1).expected

    found = worlds.places(worlds.with_session(made, 2, 1, expected=(*names, worlds.EVE)))

    assert found == [("expected", 2, 1, None, worlds.EVE)]


def test_a_date_off_is_nobodys_own_absence() -> None:
    """With 15 December off as well, Eve comes after 14 days; her two days away were long before."""
    off = (date(2026, 12, 15), date(2026, 12, 25))
    made = worlds.with_schedule(worlds.world(), dates_off=off)
    made = worlds.with_person(made, worlds.EVE, away=((date(2026, 12, 2), date(2026, 12, 3)),))

    assert "catch_up" not in {each.rule for each in worlds.check(made)}


def test_nothing_to_do_and_too_much_are_named_at_their_station() -> None:
    """At every station everybody has one thing to do, and nobody else has any."""
    made = worlds.world()
    main = list(worlds.session(made, 3, 1).main)
    third = main[2]

    main[2] = replace(third, uses=third.uses[1:])
    nothing = worlds.with_session(made, 3, 1, main=tuple(main))
    main[2] = replace(third, uses=(*third.uses, third.uses[0]))
    twice = worlds.with_session(made, 3, 1, main=tuple(main))
    stranger = Use(person=worlds.CAT, movement=third.movement, option=OptionKind.STANDARD)
    main[2] = replace(third, uses=(*third.uses, stranger))
    other = worlds.with_session(made, 3, 1, main=tuple(main))

    assert worlds.places(nothing) == [("expected", 3, 1, 3, worlds.ADA)]
    assert worlds.places(twice) == [("expected", 3, 1, 3, worlds.ADA)]
    assert worlds.places(other) == [("expected", 3, 1, 3, worlds.CAT)]


def test_the_warm_up_and_cool_down_count_as_stations_too() -> None:
    """Nobody is left without something to do at either end; the words name the part."""
    made = worlds.world()
    whole = worlds.session(made, 2, 1)
    first, last = whole.warm_up[0], whole.cool_down[-1]
    begin = (replace(first, uses=first.uses[1:]), *whole.warm_up[1:])
    end = (*whole.cool_down[:-1], replace(last, uses=last.uses[1:]))

    found = worlds.check(worlds.with_session(made, 2, 1, warm_up=begin, cool_down=end))

    assert [(each.rule, each.station, each.person) for each in found] == [
        ("expected", None, worlds.ADA)
    ]
    assert "warm-up: Ada has nothing to do" in found[0].words
    assert "cool-down: Ada has nothing to do" in found[0].words


def test_a_test_week_without_tests_is_named() -> None:
    """Week 6 is for tests: a strength session in it is a breach."""
    strength = worlds.with_session(worlds.world(), 6, 1, purpose=Purpose.STRENGTH, rounds=2)

    assert worlds.places(strength) == [("tests", 6, 1, None, None)]


def test_tests_in_another_week_are_named() -> None:
    """Week 5 is no test week."""
    early = worlds.with_session(worlds.world(), 5, 2, purpose=Purpose.TEST, rounds=1)

    assert worlds.places(early) == [("tests", 5, 2, None, None)]


def test_whoever_joins_or_comes_back_is_named_to_the_leader() -> None:
    """Ben's first session and Cat's return carry a notice about them, or it is a breach."""
    made = worlds.world()
    asked = worlds.session(made, 2, 2).notices[:1]

    joins = worlds.with_session(made, 2, 2, notices=asked)
    returns = worlds.with_session(made, 3, 2, notices=asked)

    assert worlds.places(joins) == [("catch_up", 2, 2, None, worlds.BEN)]
    assert worlds.places(returns) == [("catch_up", 3, 2, None, worlds.CAT)]
    assert "Ben joins" in worlds.check(joins)[0].words
    assert "Cat comes back" in worlds.check(returns)[0].words


def test_an_absence_of_a_week_is_no_coming_back() -> None:
    """Away from one Friday to the next Tuesday only, Cat comes back without a step down."""
    made = worlds.world()
    still = worlds.with_person(made, worlds.CAT, away=((date(2026, 12, 9), date(2026, 12, 12)),))

    # Cat came on Tuesday 8 and comes on Tuesday 15: seven days, not more. The plan, made for a
    # longer absence, now lacks her on 8 and 15 December and expects nobody wrongly.
    found = [each for each in worlds.check(still) if each.rule == "catch_up"]

    assert found == []


def test_nobody_comes_back_to_a_stronger_way() -> None:
    """After an absence the stronger way is a breach at that station."""
    stronger = worlds.with_use(worlds.world(), 3, 2, 2, worlds.CAT, option=OptionKind.STRONGER)

    assert worlds.places(stronger) == [("catch_up", 3, 2, 2, worlds.CAT)]
