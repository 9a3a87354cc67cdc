"""Net joint moments as vectors, told about anatomical axes: what muscles must do in balance.

The moment about a joint is Σ (p - c) × F over everything beyond it; the net joint moment is its
opposite, so it is positive where muscles pull towards the angle's positive direction. Axes follow
the joint coordinate systems of Grood & Suntay 1983 (J Biomech Eng 105:136-144) at hip, and the
trunk's own axes at the shoulder, where a system of turns becomes singular with the arm at the side
(both from memory); a moment is a vector, so it is projected, never differentiated by angles.
"""

from collections.abc import Iterable, Mapping

import numpy as np

from halewright.core.mechanics import gravity, joints
from halewright.core.mechanics.angles import Array
from halewright.core.mechanics.kinematics import Posture
from halewright.core.mechanics.skeleton import Body
from halewright.core.mechanics.spans import Pull

JOINTS: Mapping[str, str] = {
    "trunk": "middle_trunk",
    **{
        f"{joint}_{side}": f"{segment}_{side}"
        for side in joints.SIDES
        for joint, segment in {
            "shoulder": "upper_arm",
            "elbow": "forearm",
            "wrist": "hand",
            "hip": "thigh",
            "knee": "shank",
            "ankle": "foot",
        }.items()
    },
}
"""Each joint by the segment whose origin it is; the trunk's is the lumbar joint."""

_PLAIN_AXES: Mapping[str, tuple[str, ...]] = {
    "trunk": ("trunk_flexion", "trunk_side_bend", "trunk_rotation"),
    "shoulder": (
        "shoulder_flexion",
        "shoulder_abduction",
        "shoulder_horizontal_abduction",
        "shoulder_rotation",
    ),
    "elbow": ("elbow_flexion", "forearm_supination"),
    "wrist": ("wrist_flexion", "wrist_deviation"),
    "hip": ("hip_flexion", "hip_abduction", "hip_rotation"),
    "knee": ("knee_flexion",),
    "ankle": ("ankle_dorsiflexion",),
}


def axis_names(joint: str) -> tuple[str, ...]:
    """Return the names of a joint's axes, with its side: `elbow_flexion_left`."""
    plain = joints.plain(joint)
    side = joint.removeprefix(plain)
    return tuple(f"{name}{side}" for name in _PLAIN_AXES[plain])


AXES: tuple[str, ...] = tuple(name for joint in JOINTS for name in axis_names(joint))
"""Every axis about which a moment is told. Positive as the joint angles are: flexion, abduction,
external rotation, dorsiflexion, supination, to the left; wrist deviation towards the thumb."""


def axes(*, posture: Posture, joint: str) -> tuple[Array, ...]:
    """Return the unit vectors of a joint's axes in the world, (3, N) each, as `axis_names`.

    The first three at the shoulder are square to one another and hold the whole vector; the fourth
    is the upper arm's own axis. Hip abduction is about the floating axis, square to both others.
    """
    frame = posture.axes
    plain = joints.plain(joint)
    sign = -1.0 if joint.endswith("_right") else 1.0
    side = joint.removeprefix(plain)
    if plain == "trunk":
        base = frame["lower_trunk"]
        return base[:, 1], -base[:, 0], base[:, 2]
    if plain == "shoulder":
        base, arm = frame["upper_trunk"], frame[f"upper_arm{side}"]
        return -base[:, 1], sign * base[:, 0], sign * base[:, 2], sign * arm[:, 2]
    if plain == "elbow":
        return -frame[f"upper_arm{side}"][:, 1], sign * frame[f"forearm{side}"][:, 2]
    if plain == "wrist":
        hand = frame[f"hand{side}"]
        return -sign * hand[:, 0], -hand[:, 1]
    if plain == "hip":
        base, thigh = frame["lower_trunk"], frame[f"thigh{side}"]
        floating = cross(base[:, 1], thigh[:, 2])
        floating = floating / np.maximum(np.sqrt((floating**2).sum(axis=0)), 1e-9)
        return -base[:, 1], sign * floating, sign * thigh[:, 2]
    turned = frame[f"shank{side}"][:, 1]
    return (turned,) if plain == "knee" else (-turned,)


def cross(a: Array, b: Array) -> Array:
    """Return the cross product of two (3, N) arrays; several times quicker than numpy's own."""
    return np.stack(
        [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
    )


def beyond(body: Body) -> Mapping[str, frozenset[str]]:
    """Return for every joint the segments beyond it."""
    return {
        joint: frozenset(gravity.beyond(body=body, segment=segment))
        for joint, segment in JOINTS.items()
    }


def of_pulls(*, posture: Posture, pulls: Iterable[Pull]) -> dict[str, Array]:
    """Return the net joint moment vectors that balance these forces, (3, N), where not zero.

    In newton metres for each newton of tension.
    """
    totals: dict[str, tuple[Array, Array]] = {}
    for pull in pulls:
        moment = cross(pull.at_m, pull.force_ratio)
        force, turning = totals.get(pull.owner, (0.0, 0.0))
        totals[pull.owner] = (force + pull.force_ratio, turning + moment)
    vectors: dict[str, Array] = {}
    for joint, members in beyond(posture.body).items():
        parts = [total for owner, total in totals.items() if owner in members]
        if parts:
            force = sum((part[0] for part in parts), np.zeros((3, posture.count)))
            turning = sum((part[1] for part in parts), np.zeros((3, posture.count)))
            vectors[joint] = -(turning - cross(posture.origins_m[JOINTS[joint]], force))
    return vectors


def projected(*, posture: Posture, vectors: Mapping[str, Array]) -> dict[str, Array]:
    """Return moment vectors about the anatomical axes, (N,) for each axis."""
    told: dict[str, Array] = {}
    for joint, vector in vectors.items():
        along = axes(posture=posture, joint=joint)
        for name, axis in zip(axis_names(joint), along, strict=True):
            told[name] = np.asarray((axis * vector).sum(axis=0), dtype=np.float64)
    return told
