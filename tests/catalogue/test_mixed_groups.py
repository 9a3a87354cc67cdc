"""A group in which some sit throughout can still stand, rise and balance: nobody is left out."""

import pytest

from halewright.core.catalogue.movement import Movement
from halewright.core.catalogue.words import Pattern, Position, SetUp
from halewright.core.mechanics import demand_rules
from halewright.core.people.limits import Measure
from halewright.files import movements

UPRIGHT = [
    movement
    for movement in movements.shipped().values()
    if movement.standard.position is not Position.SEATED
]


@pytest.mark.parametrize("movement", UPRIGHT, ids=[movement.id for movement in UPRIGHT])
def test_a_standing_movement_has_a_seated_way(movement: Movement) -> None:
    """Whoever sits throughout has a way in the chair, with the group's band or none."""
    shared = {SetUp.NONE, movement.standard.set_up}
    seated = [
        option
        for option in movement.options
        if option.position is Position.SEATED and option.set_up in shared
    ]

    assert seated


@pytest.mark.parametrize("movement", UPRIGHT, ids=[movement.id for movement in UPRIGHT])
def test_the_seated_way_keeps_time_with_the_group(movement: Movement) -> None:
    """It swaps sides when the group does, and asks for no balance and no rise."""
    for option in movement.options:
        if option.position is not Position.SEATED:
            continue
        demands = demand_rules.of(option=option, power=movement.power)
        assert option.sides is movement.standard.sides
        assert demands.most(Measure.STANDING) == 0.0
        assert demands.most(Measure.BALANCE) == 0.0
        assert demands.most(Measure.RISES) == 0.0


@pytest.mark.parametrize("pattern", [Pattern.SIT_TO_STAND, Pattern.BALANCE, Pattern.ANKLE])
def test_a_replaced_hip_can_sit_in(pattern: Pattern) -> None:
    """An upright movement of each pattern has a seated way that keeps the hip at 90 degrees."""
    right_angle_rad = 1.5708
    kept = [
        movement
        for movement in UPRIGHT
        if movement.pattern is pattern
        and any(
            option.position is Position.SEATED
            and demand_rules.of(option=option, power=movement.power).most(Measure.HIP_FLEXION)
            <= right_angle_rad
            for option in movement.options
        )
    ]

    assert kept
