"""Named points of body and chair where a band is held, passes or wraps, in their owner's axes.

Names carry the side. `sole_` mid-foot under the shoe, `sole_outer_` and `sole_inner_` its edges,
`toe_` under the ball of the foot, `thigh_low_` a hand's breadth above the knee, `thigh_top_` the
front of mid-thigh (its top when seated), `under_thigh_` its back, `seat_` the seat's side edge,
`chair_leg_` the front legs low down, `chair_rear_leg_` the rear ones, `hip_` the pelvis's side.
"""

import functools
from collections.abc import Mapping
from dataclasses import dataclass

from halewright.core.mechanics.chair import Chair
from halewright.core.mechanics.segment_table import HEEL_BEHIND_ANKLE_RATIO
from halewright.core.mechanics.skeleton import Body, Vector

CHAIR = "chair"

HAND_BREADTH_M = 0.09
"""A hand's breadth above the knee, where leaders place a loop: common practice."""
_HALF_SHOE_M = 0.045
_ANKLE_CUFF_M = 0.06
"""Above the ankle's centre, where a band lies round the shank: common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A point on a segment or the chair.

    `radius_m` is that of the cylinder round the owner's own z axis on which a band wraps here, or
    None where it cannot wrap; `over` is the side on which an open band passes.
    """

    owner: str
    at_m: Vector
    radius_m: float | None = None
    over: Vector = (1.0, 0.0, 0.0)


_PAIRED = (
    "grip",
    "wrist",
    "elbow",
    "shoulder",
    "upper_back",
    "hip",
    "thigh_low",
    "thigh_mid",
    "thigh_top",
    "under_thigh",
    "knee",
    "shank",
    "ankle",
    "sole",
    "sole_outer",
    "sole_inner",
    "toe",
    "heel",
    "seat",
    "chair_leg",
    "chair_rear_leg",
    "chair_back",
    "chair_arm",
)
_UNPAIRED = ("face", "chin", "crown", "waist")
NAMES = frozenset(_UNPAIRED) | {f"{name}_{side}" for name in _PAIRED for side in ("left", "right")}
"""Every point that a band path may name."""

SOLES = frozenset(
    f"{name}_{side}"
    for name in ("sole", "sole_outer", "sole_inner", "toe", "heel")
    for side in ("left", "right")
)
"""Points where a band is held underfoot."""
CHAIR_POINTS = frozenset(
    f"{name}_{side}"
    for name in ("seat", "chair_leg", "chair_rear_leg", "chair_back", "chair_arm")
    for side in ("left", "right")
)
"""Points where the chair, not the body, holds the band."""
GRIPS = frozenset({"grip_left", "grip_right"})
WRAPPABLE = frozenset(
    f"{name}_{side}"
    for name in ("thigh_low", "thigh_mid", "thigh_top", "under_thigh", "shank", "ankle")
    for side in ("left", "right")
)
"""Points with a cylinder round which a band can wrap."""


@functools.lru_cache(maxsize=64)
def places(*, body: Body, chair: Chair) -> Mapping[str, Place]:
    """Return every named point of this body on this chair; kept, since many frames ask for it."""
    found = _unpaired(body)
    for side, sign in (("left", 1.0), ("right", -1.0)):
        for name, place in {
            **_arm(body=body, sign=sign),
            **_leg(body=body, sign=sign),
            **_foot(body=body, sign=sign),
        }.items():
            owner = place.owner
            sided = owner if owner.endswith("trunk") else f"{owner}_{side}"
            found[f"{name}_{side}"] = Place(
                owner=sided, at_m=place.at_m, radius_m=place.radius_m, over=place.over
            )
        for name, at_m in _chair(chair=chair, sign=sign).items():
            found[f"{name}_{side}"] = Place(owner=CHAIR, at_m=at_m)
    return found


def _unpaired(body: Body) -> dict[str, Place]:
    # Heights on the head are shares of its length C7 to vertex, from memory.
    head_m = body.length_m("head")
    return {
        "crown": Place(owner="head", at_m=(0.0, 0.0, head_m)),
        "face": Place(owner="head", at_m=(0.42 * head_m, 0.0, 0.57 * head_m)),
        "chin": Place(owner="head", at_m=(0.36 * head_m, 0.0, 0.28 * head_m)),
        "waist": Place(owner="middle_trunk", at_m=(body.trunk_radius_m, 0.0, 0.0)),
    }


def _arm(*, body: Body, sign: float) -> dict[str, Place]:
    blade_m = body.segment("upper_arm_left").joint_m[2]
    return {
        "shoulder": Place(owner="upper_arm", at_m=(0.0, 0.0, 0.0)),
        "elbow": Place(owner="forearm", at_m=(0.0, 0.0, 0.0)),
        "wrist": Place(owner="hand", at_m=(0.0, 0.0, 0.0)),
        "grip": Place(owner="hand", at_m=(0.0, 0.0, -body.grip_m)),
        "upper_back": Place(
            owner="upper_trunk",
            at_m=(-body.trunk_radius_m, sign * 0.75 * body.half_shoulder_m, 0.45 * blade_m),
        ),
        "hip": Place(owner="lower_trunk", at_m=(0.0, sign * (body.half_hip_m + 0.09), 0.03)),
    }


def _leg(*, body: Body, sign: float) -> dict[str, Place]:
    thigh_m, shank_m = body.length_m("thigh"), body.length_m("shank")
    radius_m = body.thigh_radius_m
    low_radius_m = 0.85 * radius_m  # A thigh tapers towards the knee: common practice.
    middle = (0.0, 0.0, -0.5 * thigh_m)
    behind: Vector = (-1.0, 0.0, 0.0)
    outer: Vector = (0.0, sign, 0.0)
    return {
        "knee": Place(owner="shank", at_m=(0.0, 0.0, 0.0)),
        "thigh_low": Place(
            owner="thigh", at_m=(0.0, 0.0, HAND_BREADTH_M - thigh_m), radius_m=low_radius_m
        ),
        "thigh_mid": Place(owner="thigh", at_m=middle, radius_m=radius_m),
        "thigh_top": Place(owner="thigh", at_m=(radius_m, 0.0, middle[2]), radius_m=radius_m),
        "under_thigh": Place(
            owner="thigh", at_m=(-radius_m, 0.0, middle[2]), radius_m=radius_m, over=behind
        ),
        "shank": Place(
            owner="shank",
            at_m=(0.0, 0.0, -0.35 * shank_m),
            radius_m=body.calf_radius_m,
            over=outer,
        ),
        "ankle": Place(
            owner="shank",
            at_m=(0.0, 0.0, _ANKLE_CUFF_M - shank_m),
            radius_m=body.shank_radius_m,
            over=outer,
        ),
    }


def _foot(*, body: Body, sign: float) -> dict[str, Place]:
    length_m = body.length_m("foot")
    under_m = -(body.ankle_height_m + body.sole_m)
    middle_m = (0.5 - HEEL_BEHIND_ANKLE_RATIO) * length_m
    ball_m = (0.72 - HEEL_BEHIND_ANKLE_RATIO) * length_m
    return {
        "sole": Place(owner="foot", at_m=(middle_m, 0.0, under_m)),
        "sole_outer": Place(owner="foot", at_m=(middle_m, sign * _HALF_SHOE_M, under_m)),
        "sole_inner": Place(owner="foot", at_m=(middle_m, -sign * _HALF_SHOE_M, under_m)),
        "toe": Place(owner="foot", at_m=(ball_m, 0.0, under_m)),
        "heel": Place(owner="foot", at_m=(-HEEL_BEHIND_ANKLE_RATIO * length_m, 0.0, under_m)),
    }


def _chair(*, chair: Chair, sign: float) -> dict[str, Vector]:
    side_m = sign * chair.half_width_m
    return {
        "seat": (0.04, side_m, chair.seat_height_m),
        "chair_leg": (chair.front_m - 0.02, side_m, 0.10),
        "chair_rear_leg": (0.02 - chair.rear_m, side_m, 0.10),
        "chair_back": (-chair.rear_m, side_m, chair.seat_height_m + 0.30),
        "chair_arm": (0.05, side_m, chair.seat_height_m + chair.arm_above_seat_m),
    }
