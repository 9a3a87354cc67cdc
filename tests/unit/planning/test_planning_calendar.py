"""The sessions that are held, counted off a calendar by hand (1 March 2027 is a Monday)."""

from datetime import date, time

from tests.fakes import small_block
from tests.fakes.small_block import ANN, BOB

from halewright.core.people.group import Meeting
from halewright.core.people.person import Weekday
from halewright.core.planning import calendar
from halewright.core.session.outline import Purpose

BOTH = (Weekday.TUESDAY, Weekday.FRIDAY)


def test_two_days_over_two_weeks() -> None:
    """Tuesdays and Fridays: 2, 5, 9 and 12 March, numbered within their weeks."""
    meets = calendar.held(small_block.group(weeks=2, days=BOTH))
    assert [(meet.week, meet.number, meet.slot, meet.on.day) for meet in meets] == [
        (1, 1, 0, 2), (1, 2, 1, 5), (2, 1, 0, 9), (2, 2, 1, 12),
    ]  # fmt: skip


def test_week_runs_from_the_start_date_whatever_its_weekday() -> None:
    """A block that starts on Thursday 4 March has Friday 5 before Tuesday 9 in week 1."""
    group = small_block.group(weeks=1, days=BOTH)
    meets = [
        calendar.date_of(_starting(group, date(2027, 3, 4)), week=1, meeting=meeting)
        for meeting in calendar.ordered(group.schedule.meetings)
    ]
    assert meets == [date(2027, 3, 9), date(2027, 3, 5)]


def _starting(group: small_block.Group, on: date) -> small_block.Group:
    return small_block.replace(group, schedule=small_block.replace(group.schedule, starts_on=on))


def test_sessions_are_held_in_order_of_date_even_then() -> None:
    """In a block from Thursday on, Friday's session is the first of each week."""
    group = _starting(small_block.group(weeks=2, days=BOTH), date(2027, 3, 4))
    meets = calendar.held(group)
    assert [meet.on.day for meet in meets] == [5, 9, 12, 16]
    assert [(meet.week, meet.number) for meet in meets] == [(1, 1), (1, 2), (2, 1), (2, 2)]
    assert meets[0].purpose is Purpose.HANDLING


def test_dates_off_are_left_out_and_numbers_close_up() -> None:
    """Tuesday 9 is off: Friday 12 is session 1 of week 2, and keeps Friday's slot."""
    group = small_block.group(weeks=2, days=BOTH, dates_off=(date(2027, 3, 9),))
    (last,) = (meet for meet in calendar.held(group) if meet.week == 2)
    assert (last.number, last.slot, last.on.day) == (1, 1, 12)


def test_purposes_of_first_tests_and_others() -> None:
    """The first of all is for handling even in a test week; the rest of that week is for tests."""
    group = small_block.group(weeks=2, days=BOTH, test_weeks=(1,))
    assert [meet.purpose for meet in calendar.held(group)] == [
        Purpose.HANDLING, Purpose.TEST, Purpose.STRENGTH, Purpose.STRENGTH,
    ]  # fmt: skip


def test_phases_and_easier_weeks() -> None:
    """Kept for two weeks, the third begins phase 1; week 4 is easier unless it is for tests."""
    meets = calendar.held(small_block.group(weeks=4, keep_weeks=2))
    assert [meet.phase for meet in meets] == [0, 0, 1, 1]
    assert [meet.easier for meet in meets] == [False, False, False, True]
    tested = calendar.held(small_block.group(weeks=4, test_weeks=(4,)))
    assert not any(meet.easier for meet in tested)


def test_who_joins_is_new_once_and_nobody_is_at_the_start() -> None:
    """Bob joins on Wednesday 10 March: new on Friday 12, not on Tuesday 16."""
    bob = small_block.person("bob", joined_on=date(2027, 3, 10))
    group = small_block.group(small_block.person("ann"), bob, weeks=3, days=BOTH)
    meets = calendar.held(group)
    assert {meet.on.day: set(meet.joining) for meet in meets if meet.joining} == {12: {BOB}}
    assert [BOB in meet.expected for meet in meets] == [False] * 3 + [True] * 3


def test_who_was_away_for_more_than_a_week_comes_back() -> None:
    """Ann last came on 5 March and is away to the 15th: back on the 16th, eleven days on."""
    ann = small_block.person("ann", away=((date(2027, 3, 6), date(2027, 3, 15)),))
    group = small_block.group(ann, small_block.person("bob"), weeks=3, days=BOTH)
    meets = calendar.held(group)
    assert {meet.on.day: set(meet.returning) for meet in meets if meet.returning} == {16: {ANN}}


def test_one_session_missed_is_no_absence() -> None:
    """Away on Tuesday 9 alone: seven days from Friday 5 to Friday 12 are no more than a week."""
    ann = small_block.person("ann", away=((date(2027, 3, 9), date(2027, 3, 9)),))
    meets = calendar.held(small_block.group(ann, weeks=3, days=BOTH))
    assert not any(meet.returning for meet in meets)


def test_days_of_the_group_without_sessions_are_no_absence() -> None:
    """Two weeks off for everybody make nobody a returner: the absence is not their own."""
    off = tuple(date(2027, 3, day) for day in (9, 16))
    meets = calendar.held(small_block.group(weeks=4, dates_off=off))
    assert not any(meet.returning for meet in meets)


def test_own_days_are_kept() -> None:
    """Ann comes on Fridays only."""
    ann = small_block.person("ann", days=(Weekday.FRIDAY,))
    meets = calendar.held(small_block.group(ann, small_block.person("bob"), weeks=2, days=BOTH))
    assert [ANN in meet.expected for meet in meets] == [False, True, False, True]


def test_meetings_are_ordered_by_day_then_time() -> None:
    """Whatever order the file has."""
    friday = Meeting(day=Weekday.FRIDAY, starts_at=time(9, 0))
    late = Meeting(day=Weekday.TUESDAY, starts_at=time(14, 0))
    early = Meeting(day=Weekday.TUESDAY, starts_at=time(10, 0))
    assert calendar.ordered((friday, late, early)) == (early, late, friday)
