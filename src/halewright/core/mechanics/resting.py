"""Arms that no pose names: they rest on the thighs, hold the seat or the chair back, or hang."""

from collections.abc import Mapping

import numpy as np

from halewright.core.catalogue.movement import Option
from halewright.core.catalogue.words import HandSupport, Position
from halewright.core.mechanics import angles as angle_rules
from halewright.core.mechanics.angles import Array
from halewright.core.mechanics.chair import Chair
from halewright.core.mechanics.skeleton import Body

HANGING_RAD: Mapping[str, float] = {
    "shoulder_flexion": 0.10,
    "shoulder_abduction": 0.10,
    "elbow_flexion": 0.30,
}
"""A loosely hanging arm: common practice."""
_HAND_M = 0.02
"""From the grip's middle to what the hand lies on."""


def arms(
    *,
    body: Body,
    option: Option,
    chair: Chair,
    angles_rad: dict[str, Array],
    origins_m: Mapping[str, Array],
    axes: Mapping[str, Array],
) -> dict[str, Array]:
    """Return the angles with every resting arm brought to its place in each frame.

    Seated, hands lie on the thighs, or hold the seat's edges where the option asks for support by
    two hands. Standing, they hold the chair back; where one hand holds it is the left, as poses
    are authored with the right side working. Rising, they hang.
    """
    turned = dict(angles_rad)
    trunk = axes["upper_trunk"]
    for side in angle_rules.resting_sides(option):
        sign = 1.0 if side == "left" else -1.0
        target = _target_m(
            body=body, option=option, chair=chair, side=side, origins_m=origins_m, axes=axes
        )
        if target is None:
            count = trunk.shape[2]
            found = {name: np.full(count, angle) for name, angle in HANGING_RAD.items()}
        else:
            away = target - origins_m[f"upper_arm_{side}"]
            local: Array = np.einsum("jin,jn->in", trunk, away)
            is_standing = option.position is Position.SUPPORTED_STANDING
            found = angle_rules.reach(
                body=body,
                forward_m=local[0],
                outward_m=sign * local[1],
                down_m=-local[2],
                rotation_rad=-0.1 if is_standing else -0.5,
            )
            found["forearm_supination"] = np.full(local.shape[1], -0.9)
        turned |= {f"{name}_{side}": values for name, values in found.items()}
    return turned


def _target_m(
    *,
    body: Body,
    option: Option,
    chair: Chair,
    side: str,
    origins_m: Mapping[str, Array],
    axes: Mapping[str, Array],
) -> Array | None:
    """Return where the grip rests, (3, N) in the world, or None where the arm hangs."""
    sign = 1.0 if side == "left" else -1.0
    count = axes["upper_trunk"].shape[2]
    if option.position is Position.RISING:
        return None
    if option.position is Position.SUPPORTED_STANDING:
        lifted = option.support is HandSupport.ONE_HAND and side == "right"
        if lifted or option.support is HandSupport.NONE:
            return None
        at = (chair.x_m - chair.rear_m - 0.05, sign * 0.17, chair.back_top_m + _HAND_M)
        return np.repeat(np.array(at)[:, None], count, axis=1)
    if option.support is HandSupport.TWO_HANDS:
        at = (chair.x_m + 0.05, sign * (chair.half_width_m + _HAND_M), chair.seat_height_m)
        return np.repeat(np.array(at)[:, None], count, axis=1)
    on_thigh = np.array([body.thigh_radius_m + _HAND_M, 0.0, -0.62 * body.length_m("thigh")])
    moved: Array = np.einsum("ijn,j->in", axes[f"thigh_{side}"], on_thigh)
    return origins_m[f"thigh_{side}"] + moved
