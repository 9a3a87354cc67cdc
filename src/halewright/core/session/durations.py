"""How long the parts of a session take, and what changing from one station to the next costs.

All figures are common practice unless a line says otherwise, and are a leader's to change. Planner,
checker and timeline all measure with these functions, so a plan that fits on paper fits the clock.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from halewright.core.catalogue.movement import Option
from halewright.core.catalogue.words import Position, SetUp
from halewright.core.units import SECOND_MS


@dataclass(frozen=True, slots=True, kw_only=True)
class Handling:
    """The time to take a band out of a set-up and to put it into one."""

    off_ms: int
    on_ms: int


def _seconds(*, off: int, on: int) -> Handling:
    return Handling(off_ms=off * SECOND_MS, on_ms=on * SECOND_MS)


_HANDLING: Mapping[SetUp, Handling] = {
    SetUp.NONE: _seconds(off=0, on=0),
    SetUp.IN_HANDS: _seconds(off=3, on=5),
    SetUp.BEHIND_BACK: _seconds(off=5, on=12),
    SetUp.UNDER_THIGHS: _seconds(off=6, on=12),
    SetUp.ACROSS_THIGHS: _seconds(off=6, on=12),
    SetUp.UNDER_FEET: _seconds(off=6, on=14),
    SetUp.ROUND_THIGHS: _seconds(off=10, on=18),
    SetUp.CHAIR: _seconds(off=10, on=18),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Durations:
    """The lengths that a session is built from, in whole milliseconds.

    `rise_ms` is the seated-to-standing changeover after band and loop are off: feet moving, then
    a pause standing still. `slack_share` of the slot is kept free for talk and late-comers
    (common practice is 10 to 15 %; welcome, water and close already hold part of it).
    """

    welcome_ms: int = 90 * SECOND_MS
    warm_up_item_ms: int = 45 * SECOND_MS
    hand_out_ms: int = 60 * SECOND_MS
    get_ready_ms: int = 15 * SECOND_MS
    explain_ms: int = 12 * SECOND_MS
    handling_explain_ms: int = 35 * SECOND_MS
    swap_sides_ms: int = 10 * SECOND_MS
    water_ms: int = 60 * SECOND_MS
    bands_down_ms: int = 30 * SECOND_MS
    cool_down_item_ms: int = 40 * SECOND_MS
    cool_down_side_ms: int = 25 * SECOND_MS
    rise_check_ms: int = 60 * SECOND_MS
    close_ms: int = 60 * SECOND_MS
    rise_ms: int = 20 * SECOND_MS
    sit_ms: int = 10 * SECOND_MS
    slack_share: float = 0.03
    handling: Mapping[SetUp, Handling] = field(default_factory=lambda: _HANDLING)


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class State:
    """What decides a changeover: where the band is, and whether the group stands."""

    set_up: SetUp
    standing: bool


REST_STATE = State(set_up=SetUp.NONE, standing=False)
"""Seated, without a band: how the main part begins and ends."""


def state_of(option: Option) -> State:
    """Return the state in which an option is begun; a sit-to-stand is begun seated."""
    return State(set_up=option.set_up, standing=option.position is Position.SUPPORTED_STANDING)


def changeover_ms(*, before: State, after: State, durations: Durations) -> int:
    """Return the least time from one state to another.

    Moving between sitting and standing always takes the band off first, even where the next
    set-up is the same (DESIGN §6, truth 0). The times are metric: a way round is never shorter.
    """
    moves = before.standing is not after.standing
    total_ms = 0
    if moves or before.set_up is not after.set_up:
        total_ms += durations.handling[before.set_up].off_ms
        total_ms += durations.handling[after.set_up].on_ms
    if moves:
        total_ms += durations.rise_ms if after.standing else durations.sit_ms
    return total_ms


def gap_ms(
    *, before: State, after: State, rest_ms: int, explain_ms: int, durations: Durations
) -> int:
    """Return the time between two work intervals: the rest or the changeover, then explaining."""
    return max(rest_ms, changeover_ms(before=before, after=after, durations=durations)) + explain_ms
