import itertools

import pytest

from halewright.core.catalogue.words import SetUp
from halewright.core.session.durations import (
    REST_STATE,
    Durations,
    State,
    changeover_ms,
    gap_ms,
)

STATES = [State(set_up=set_up, standing=stands) for set_up in SetUp for stands in (False, True)]
SITTING_WITH_LOOP = State(set_up=SetUp.ROUND_THIGHS, standing=False)
STANDING = State(set_up=SetUp.NONE, standing=True)


def takes_ms(before: State, after: State) -> int:
    return changeover_ms(before=before, after=after, durations=Durations())


def test_staying_takes_no_time() -> None:
    """From a state to itself there is nothing to do."""
    assert [takes_ms(state, state) for state in STATES] == [0] * len(STATES)


def test_a_way_round_is_never_shorter() -> None:
    """For every three states the direct changeover takes no longer than one by way of another."""
    for first, second, third in itertools.product(STATES, repeat=3):
        assert takes_ms(first, third) <= takes_ms(first, second) + takes_ms(second, third)


def test_rising_takes_the_loop_off_first() -> None:
    """From a loop to standing: loop off 10 s, nothing to put on, rise and pause 20 s: 30 s."""
    assert takes_ms(SITTING_WITH_LOOP, STANDING) == 10_000 + 0 + 20_000


def test_sitting_down_to_a_band_underfoot() -> None:
    """From standing to a band underfoot: nothing off, band on 14 s, sit 10 s: 24 s."""
    underfoot = State(set_up=SetUp.UNDER_FEET, standing=False)

    assert takes_ms(STANDING, underfoot) == 0 + 14_000 + 10_000


def test_standing_up_with_the_same_set_up_still_takes_it_off() -> None:
    """A band in the hands is put down (3 s), picked up (5 s), and rising takes 20 s: 28 s."""
    sitting = State(set_up=SetUp.IN_HANDS, standing=False)
    standing = State(set_up=SetUp.IN_HANDS, standing=True)

    assert takes_ms(sitting, standing) == 3_000 + 5_000 + 20_000


@pytest.mark.parametrize(
    ("rest_ms", "expected_ms"),
    [(15_000, 42_000), (40_000, 52_000)],
    ids=["the changeover is longer", "the rest is longer"],
)
def test_a_gap_is_the_longer_of_rest_and_changeover(rest_ms: int, expected_ms: int) -> None:
    """Loop to standing takes 30 s; with 12 s of explaining the gap is max(rest, 30) + 12."""
    gap = gap_ms(
        before=SITTING_WITH_LOOP,
        after=STANDING,
        rest_ms=rest_ms,
        explain_ms=12_000,
        durations=Durations(),
    )

    assert gap == expected_ms


def test_the_main_part_begins_seated_without_a_band() -> None:
    """The state before and after the main part is seated with no band."""
    assert State(set_up=SetUp.NONE, standing=False) == REST_STATE
