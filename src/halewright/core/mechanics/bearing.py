"""What bears the body's weight at each joint: muscles, or the seat, the floor and the chair.

Seated, a foot on the floor rests there, and a thigh that is not lifted rests on the seat: their
weight asks nothing of a joint, and a band that pulls at such a foot is held by the floor. The hips
of resting legs still hold up pelvis, trunk, and arms: half of that each, in bending and stretching.
Standing, the floor's push on each foot stands under the common centre of mass, as far as the soles
reach; what is beyond is held by the hands. Statics only.
"""

from dataclasses import replace

import numpy as np

from halewright.core import units
from halewright.core.catalogue.movement import Option
from halewright.core.catalogue.words import Position
from halewright.core.mechanics import angles as angle_rules
from halewright.core.mechanics import gravity, joints, moments
from halewright.core.mechanics.angles import Array
from halewright.core.mechanics.kinematics import Posture
from halewright.core.mechanics.skeleton import SEGMENTS
from halewright.core.mechanics.spans import Pull

_ON_THE_FLOOR_M = 0.01
"""A sole this near rests there: the poses are shown no more exactly."""
_ABOVE_THE_LEGS = tuple(
    name for name in SEGMENTS if joints.plain(name) not in ("thigh", "shank", "foot")
)
_LIFTED_M = 0.02
"""A knee this much above the hip has lifted its thigh off the seat: our rule."""
OFF_THE_SEAT_M = 0.01
"""Hips this much above the seat they sat on have left it: our rule."""


def weight_nm(*, posture: Posture, option: Option) -> dict[str, Array]:
    """Return the net joint moment vectors that balance the body's weight, (3, N) for each joint."""
    resting = angle_rules.resting_sides(option)
    found: dict[str, Array] = {}
    for joint, segment in moments.JOINTS.items():
        moment = -gravity.moment_nm(posture=posture, segment=segment)
        plain, side = joints.plain(joint), joint.rpartition("_")[2]
        if plain in ("hip", "knee", "ankle"):
            hanging = _hanging(posture=posture, option=option, plain=plain, side=side)
            found[joint] = moment * hanging
            if plain == "hip":
                found[joint] += (1.0 - hanging) * 0.5 * _upper_weight_nm(posture)
        elif plain in ("shoulder", "elbow", "wrist") and side in resting:
            holds = option.position is not Position.RISING
            found[joint] = moment * (0.0 if holds else 1.0)
        else:
            found[joint] = moment
    if option.position is not Position.SEATED:
        _stand(posture=posture, option=option, found=found)
    return found


def _upper_weight_nm(posture: Posture) -> Array:
    """Return the turning of the weight above the legs about the hips' line, (3, N)."""
    centre_m = gravity.centre_m(posture=posture, segments=_ABOVE_THE_LEGS)
    kilos = sum(posture.body.segment(name).mass_kg for name in _ABOVE_THE_LEGS)
    down_n = np.zeros((3, posture.count))
    down_n[2] = -kilos * units.STANDARD_GRAVITY_M_PER_S2
    turning = moments.cross(centre_m - posture.origins_m["lower_trunk"], down_n)
    return _about_the_hips(posture=posture, turning=turning)


def _about_the_hips(*, posture: Posture, turning: Array) -> Array:
    """Return a turning's part about the line through the hips: the seat bears the other parts."""
    line = posture.axes["lower_trunk"][:, 1]
    return np.asarray(line * (line * turning).sum(axis=0), dtype=np.float64)


def _upper_band_nm(*, posture: Posture, pulls: tuple[Pull, ...]) -> Array:
    """Return the turning of a band's pull above the legs about the hips' line, (3, N)."""
    turning = np.zeros((3, posture.count))
    hips_m = posture.origins_m["lower_trunk"]
    for pull in pulls:
        if pull.owner in _ABOVE_THE_LEGS:
            turning = turning + moments.cross(pull.at_m - hips_m, pull.force_ratio)
    return _about_the_hips(posture=posture, turning=turning)


def _hanging(*, posture: Posture, option: Option, plain: str, side: str) -> Array:
    """Return 1 where a leg's joint carries the weight beyond it, 0 where that rests."""
    if option.position is not Position.SEATED:
        # Standing legs are bound to the floor's push in `_stand`.
        return np.ones(posture.count)
    above_m = posture.origins_m[f"shank_{side}"][2] - posture.origins_m[f"thigh_{side}"][2]
    off_floor = lowest_m(posture=posture, side=side) > _ON_THE_FLOOR_M
    carried = off_floor & (above_m > _LIFTED_M) if plain == "hip" else off_floor
    return np.asarray(carried, dtype=np.float64)


def lowest_m(*, posture: Posture, side: str) -> Array:
    """Return the height of the lower of heel and ball of a foot, (N,)."""
    heel_m, toe_m = (posture.point_m(f"{name}_{side}")[2] for name in ("heel", "toe"))
    return np.asarray(np.minimum(heel_m, toe_m), dtype=np.float64)


def _highest_m(*, posture: Posture, side: str) -> Array:
    heel_m, toe_m = (posture.point_m(f"{name}_{side}")[2] for name in ("heel", "toe"))
    return np.asarray(np.maximum(heel_m, toe_m), dtype=np.float64)


def band_nm(*, posture: Posture, option: Option, pulls: tuple[Pull, ...]) -> dict[str, Array]:
    """Return the net joint moment vectors for a band's forces, (3, N), for each newton of tension.

    What pulls at a sitter's foot that rests on the floor is held there and asks nothing of knee
    and hip; while the whole sole rests it asks nothing of the ankle either.
    """
    found = moments.of_pulls(posture=posture, pulls=pulls)
    if option.position is not Position.SEATED:
        return found
    upper = _upper_band_nm(posture=posture, pulls=pulls)
    still = np.zeros((3, posture.count))
    for side in joints.SIDES:
        hip = f"hip_{side}"
        if any(pull.owner == f"foot_{side}" for pull in pulls):
            found |= _with_foot_held(posture=posture, pulls=pulls, side=side)
        hanging = _hanging(posture=posture, option=option, plain="hip", side=side)
        found[hip] = found.get(hip, still) + (1.0 - hanging) * 0.5 * upper
    return found


def _with_foot_held(*, posture: Posture, pulls: tuple[Pull, ...], side: str) -> dict[str, Array]:
    """Return a leg's moments with the floor holding its foot while that rests."""
    found: dict[str, Array] = {}
    off_floor = lowest_m(posture=posture, side=side) > _ON_THE_FLOOR_M
    not_flat = _highest_m(posture=posture, side=side) > _ON_THE_FLOOR_M
    for plain, lifted in (("hip", off_floor), ("knee", off_floor), ("ankle", not_flat)):
        held = tuple(
            replace(pull, force_ratio=pull.force_ratio * lifted)
            if pull.owner == f"foot_{side}"
            else pull
            for pull in pulls
        )
        joint = f"{plain}_{side}"
        found[joint] = moments.of_pulls(posture=posture, pulls=held)[joint]
    return found


def on_the_seat(posture: Posture) -> Array:
    """Return 1 in the frames in which a rising person's hips are still on the seat, else 0."""
    gap_m = posture.origins_m["lower_trunk"][2] - posture.body.thigh_radius_m
    return np.asarray(gap_m - posture.chair.seat_height_m < OFF_THE_SEAT_M, dtype=np.float64)


def feet_push(*, posture: Posture) -> dict[str, tuple[Array, Array]]:
    """Return for each foot that bears weight the floor's push: where (3, N) and how much (3, N).

    Vertical, under the common centre of mass as far as the sole reaches. Feet on the floor share
    evenly; a foot in the air bears nothing.
    """
    centre_m = gravity.centre_m(posture=posture, segments=SEGMENTS)
    weight_n = posture.body.mass_kg * units.STANDARD_GRAVITY_M_PER_S2
    grounded = {
        side: (lowest_m(posture=posture, side=side) < _ON_THE_FLOOR_M).astype(np.float64)
        for side in joints.SIDES
    }
    bearing = np.maximum(sum(grounded.values(), np.zeros(posture.count)), 1.0)
    pushes = {}
    for side in joints.SIDES:
        heel, toe = posture.point_m(f"heel_{side}")[0], posture.point_m(f"toe_{side}")[0]
        sole = posture.point_m(f"sole_{side}")
        ahead_m = np.clip(centre_m[0], np.minimum(heel, toe), np.maximum(heel, toe))
        at_m = np.stack([ahead_m, sole[1], np.zeros(posture.count)])
        up_n = np.zeros((3, posture.count))
        up_n[2] = weight_n * grounded[side] / bearing
        pushes[side] = (at_m, up_n)
    return pushes


def _stand(*, posture: Posture, option: Option, found: dict[str, Array]) -> None:
    """Add the floor's push to the legs, from the moment that the seat no longer bears."""
    borne = 1.0 - on_the_seat(posture) if option.position is Position.RISING else 1.0
    for side, (at_m, up_n) in feet_push(posture=posture).items():
        for plain in ("hip", "knee", "ankle"):
            joint = f"{plain}_{side}"
            arm_m = at_m - posture.origins_m[moments.JOINTS[joint]]
            found[joint] = (found[joint] - moments.cross(arm_m, up_n)) * borne
