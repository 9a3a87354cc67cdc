"""The warm-up and the cool-down: what everybody expected can do, varied from phase to phase."""

from halewright.core.catalogue.movement import Catalogue, Movement, MovementId
from halewright.core.catalogue.words import Part, Pattern, Position, SetUp
from halewright.core.people.person import PersonId
from halewright.core.planning import choice
from halewright.core.screening.verdict import Matrix

WARM_UP_COUNT = 6
COOL_DOWN_COUNT = 5
"""Items of 45 and 40 seconds: 5 to 10 minutes with their talk (awarding-body units, see needs)."""

_LEAST_PULSE_RAISERS = 2


def chosen(
    *,
    part: Part,
    people: tuple[PersonId, ...],
    catalogue: Catalogue,
    matrix: Matrix,
    turn: int,
) -> tuple[MovementId, ...]:
    """Return the items of a part for a cell of the block; `turn` shifts the choice along.

    A warm-up begins with pulse raisers and goes on to mobility. Fewer items than usual are
    returned where too few suit everybody.
    """
    fitting = [
        movement
        for movement in catalogue.values()
        if movement.part is part and _suits_all(movement, people, matrix)
    ]
    if part is Part.COOL_DOWN:
        return _turned(fitting, turn=turn, count=COOL_DOWN_COUNT)
    raisers = [movement for movement in fitting if movement.pattern is Pattern.PULSE_RAISER]
    others = [movement for movement in fitting if movement.pattern is not Pattern.PULSE_RAISER]
    first = _turned(raisers, turn=turn, count=_LEAST_PULSE_RAISERS)
    return first + _turned(others, turn=turn, count=WARM_UP_COUNT - len(first))


def _suits_all(movement: Movement, people: tuple[PersonId, ...], matrix: Matrix) -> bool:
    seated = movement.standard.position is Position.SEATED
    bandless = movement.standard.set_up is SetUp.NONE
    return seated and bandless and all(choice.way(each, movement, matrix) for each in people)


def _turned(movements: list[Movement], *, turn: int, count: int) -> tuple[MovementId, ...]:
    if not movements:
        return ()
    start = turn * count % len(movements)
    around = movements[start:] + movements[:start]
    return tuple(movement.id for movement in around[:count])
