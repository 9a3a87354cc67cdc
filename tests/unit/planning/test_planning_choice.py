"""Which way of a movement each person uses."""

from dataclasses import replace

import pytest
from tests.fakes import plan_world, small_block
from tests.fakes.small_block import ANN, BARRED, CARE

from halewright.core.catalogue.movement import MovementId
from halewright.core.catalogue.words import OptionKind, Position, SetUp
from halewright.core.planning import choice
from halewright.core.planning.calendar import Meet
from halewright.core.screening.verdict import Verdict
from halewright.core.session.outline import Purpose

PULL = plan_world.main_movement("pull-1")
OTHER = plan_world.main_movement("pull-2")
RISE = plan_world.main_movement("rise-1")
SUITS = plan_world.SUITS
STANDARD, GENTLER, BANDLESS = (
    OptionKind.STANDARD,
    OptionKind.GENTLER,
    OptionKind.WITHOUT_BAND,
)


def verdicts(
    movement: plan_world.Movement, **given: Verdict
) -> dict[tuple[str, MovementId, OptionKind], Verdict]:
    return {
        (ANN, movement.id, option.kind): given.get(option.kind.value, SUITS)
        for option in movement.options
    }


@pytest.mark.parametrize(
    ("given", "expected"),
    [
        ({}, STANDARD),
        ({"standard": CARE}, GENTLER),
        ({"standard": BARRED}, GENTLER),
        ({"standard": BARRED, "gentler": BARRED}, BANDLESS),
        ({"standard": CARE, "gentler": BARRED, "without_band": BARRED}, STANDARD),
        ({"standard": CARE, "gentler": CARE, "without_band": CARE}, STANDARD),
        ({"standard": BARRED, "gentler": BARRED, "without_band": BARRED}, None),
    ],
)
def test_best_fit_first_then_the_groups_own(
    given: dict[str, Verdict], expected: OptionKind | None
) -> None:
    """Suitable before with care; among equals the group's own way; the stronger is never given."""
    assert choice.way(ANN, PULL, verdicts(PULL, **given)) is expected


def test_another_set_up_is_never_given() -> None:
    """A gentler way with the band underfoot is none where the group has it in the hands."""
    gentler = replace(PULL.options[1], set_up=SetUp.UNDER_FEET)
    pull = replace(PULL, options=(PULL.options[0], gentler, *PULL.options[2:]))
    assert choice.way(ANN, pull, verdicts(pull, standard=BARRED)) is BANDLESS


def meet(**changes: object) -> Meet:
    (made,) = small_block.problem.calendar.held(small_block.group())
    return replace(made, **{"purpose": Purpose.STRENGTH, **changes})  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({}, STANDARD),
        ({"purpose": Purpose.TEST}, STANDARD),
        ({"purpose": Purpose.HANDLING}, BANDLESS),
        ({"joining": frozenset({ANN})}, BANDLESS),
        ({"returning": frozenset({ANN})}, GENTLER),
    ],
)
def test_way_in_a_session(changes: dict[str, object], expected: OptionKind) -> None:
    """Without load while new, a step down on coming back, else as always."""
    assert choice.in_session(ANN, PULL, meet=meet(**changes), matrix=verdicts(PULL)) is expected


def test_without_load_a_bandless_movement_is_done_as_it_is() -> None:
    """A rise needs no band: in a first session it is done as ever."""
    first = meet(purpose=Purpose.HANDLING)
    assert choice.in_session(ANN, RISE, meet=first, matrix=verdicts(RISE)) is STANDARD


ALL_BARRED = {"standard": BARRED, "gentler": BARRED, "without_band": BARRED, "stronger": BARRED}


def done(station: plan_world.Movement, *others: plan_world.Movement) -> choice.Done:
    catalogue = {each.id: each for each in (station, *others)}
    matrix = verdicts(station, **ALL_BARRED)
    for other in others:
        matrix |= verdicts(other)
    return choice.done(ANN, station, meet=meet(), catalogue=catalogue, matrix=matrix)


def test_last_resort_is_another_of_the_pattern() -> None:
    """Where no way of pull 1 suits, pull 2 is done beside it, never a rise."""
    found = done(PULL, RISE, OTHER)
    assert (found.movement, found.kind) == (OTHER.id, STANDARD)
    assert found.is_last_resort(PULL)
    assert not found.is_as_shown(PULL)


def test_last_resort_shares_the_band_or_has_none() -> None:
    """Another pull with the band underfoot does not go beside one in the hands."""
    underfoot = tuple(replace(each, set_up=SetUp.UNDER_FEET) for each in OTHER.options[:3])
    found = done(PULL, replace(OTHER, options=underfoot))
    assert (found.movement, found.kind) == (PULL.id, None)
    assert found.is_last_resort(PULL)


def test_last_resort_has_nobody_stand_alone() -> None:
    """Another pull that is done standing does not go beside a seated one."""
    standing = tuple(replace(each, position=Position.SUPPORTED_STANDING) for each in OTHER.options)
    assert done(PULL, replace(OTHER, options=standing)).kind is None
