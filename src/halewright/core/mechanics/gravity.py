"""What the body's own weight asks of a joint: the static moment of everything beyond it."""

import numpy as np

from halewright.core import units
from halewright.core.mechanics.angles import Array
from halewright.core.mechanics.kinematics import Posture
from halewright.core.mechanics.skeleton import SEGMENTS, Body


def beyond(*, body: Body, segment: str) -> tuple[str, ...]:
    """Return a segment and all that hangs from it, such as upper arm, forearm and hand.

    Raises KeyError for a segment that the body does not have.
    """
    if segment not in SEGMENTS:
        raise KeyError(segment)
    held = {segment}
    for each in body.segments:
        if each.parent in held:
            held.add(each.name)
    return tuple(each.name for each in body.segments if each.name in held)


def centre_m(*, posture: Posture, segments: tuple[str, ...]) -> Array:
    """Return the common centre of mass of some segments, (3, N)."""
    parts = [posture.body.segment(name) for name in segments]
    moment = sum(
        (part.mass_kg * posture.located_m(owner=part.name, at_m=part.centre_m) for part in parts),
        np.zeros((3, posture.count)),
    )
    return moment / sum(part.mass_kg for part in parts)


def moment_nm(*, posture: Posture, segment: str) -> Array:
    """Return the moment of weight about a segment's own joint, (3, N) in world axes.

    It is r × mg of the segment and all beyond it; muscles balance it with the opposite. A whole
    vector, because a joint's turning axes are not at right angles at every pose.
    """
    names = beyond(body=posture.body, segment=segment)
    mass_kg = sum(posture.body.segment(name).mass_kg for name in names)
    arm_m = centre_m(posture=posture, segments=names) - posture.origins_m[segment]
    weight_n = mass_kg * units.STANDARD_GRAVITY_M_PER_S2
    # (x, y, z) × (0, 0, -w) = (-y w, x w, 0)
    return np.stack([-arm_m[1] * weight_n, arm_m[0] * weight_n, np.zeros(posture.count)])
