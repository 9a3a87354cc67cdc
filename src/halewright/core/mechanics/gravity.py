"""What the body's own weight asks of a joint: the static moment of everything beyond it."""

import functools
from collections.abc import Mapping

import numpy as np

from halewright.core import units
from halewright.core.mechanics.angles import Array
from halewright.core.mechanics.kinematics import Posture
from halewright.core.mechanics.skeleton import PARENTS, SEGMENTS


@functools.cache
def beyond(segment: str) -> tuple[str, ...]:
    """Return a segment and all that hangs from it, such as upper arm, forearm and hand.

    Raises KeyError for a segment that the body does not have.
    """
    if segment not in SEGMENTS:
        raise KeyError(segment)
    held = {segment}
    for name in SEGMENTS:
        if PARENTS[name] in held:
            held.add(name)
    return tuple(name for name in SEGMENTS if name in held)


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
    names = beyond(segment)
    mass_kg = sum(posture.body.segment(name).mass_kg for name in names)
    arm_m = centre_m(posture=posture, segments=names) - posture.origins_m[segment]
    weight_n = mass_kg * units.STANDARD_GRAVITY_M_PER_S2
    # (x, y, z) × (0, 0, -w) = (-y w, x w, 0)
    return np.stack([-arm_m[1] * weight_n, arm_m[0] * weight_n, np.zeros(posture.count)])


def moments_nm(
    *,
    origins_m: Mapping[str, Array],
    centres_m: Mapping[str, Array],
    masses_kg: Mapping[str, Array],
) -> dict[str, Array]:
    """Return the moments of weight about every segment's own joint at once, (3, N) each.

    Sums run from the ends inward, so that each segment is visited once. `masses_kg` are (N,), so
    that every frame may be of another person.
    """
    mass_kg = dict(masses_kg)
    weighted = {name: masses_kg[name] * centres_m[name][:2] for name in SEGMENTS}
    found: dict[str, Array] = {}
    for name in reversed(SEGMENTS):
        lever = weighted[name] - mass_kg[name] * origins_m[name][:2]
        moment = np.zeros((3, lever.shape[1]))
        moment[0] = -units.STANDARD_GRAVITY_M_PER_S2 * lever[1]
        moment[1] = units.STANDARD_GRAVITY_M_PER_S2 * lever[0]
        found[name] = moment
        parent = PARENTS[name]
        if parent is not None:
            mass_kg[parent] = mass_kg[parent] + mass_kg[name]
            weighted[parent] = weighted[parent] + weighted[name]
    return found
