"""Which piece of kit goes with which way of doing a movement, and how much of it is needed."""

from halewright.core.catalogue.movement import Option
from halewright.core.mechanics.loads import Load
from halewright.core.people.kit import Band, Shape

HAND_WRAP_M = 0.12
"""Band wound once round each hand: common practice."""


def takes(option: Option, *, shape: Shape) -> bool:
    """Return whether a way of doing a movement uses this shape: a closed path takes a loop."""
    closed = any(path.closed for path in option.paths)
    return bool(option.paths) and closed is (shape is Shape.LOOP)


def strands_read(band: Band) -> int:
    """Return how many strands the scale held: a loop is pulled whole between two hooks."""
    return 2 if band.shape is Shape.LOOP else 1


def is_long_enough(load: Load, *, band: Band) -> bool:
    """Return whether the band is as long as the load needs, hand wraps included; True if unknown.

    A loop is as long as it is: whoever grips one asks for its own length.
    """
    if band.length_m is None or load.closed:
        return True
    needed_m = load.used_m + load.hands * HAND_WRAP_M
    return needed_m <= band.length_m + 1e-9
