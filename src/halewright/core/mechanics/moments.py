"""Net joint moments as vectors, told about anatomical axes: what muscles must do in balance.

The moment about a joint is Σ (p - c) × F over everything beyond it; the net joint moment is its
opposite, so it is positive where muscles pull towards the angle's positive direction. Axes follow
the joint coordinate systems of Grood & Suntay 1983 (J Biomech Eng 105:136-144) at hip, and the
trunk's own axes at the shoulder, where a system of turns becomes singular with the arm at the side
(both from memory); a moment is a vector, so it is projected, never differentiated by angles.
"""

import functools
from collections.abc import Iterable, Mapping

import numpy as np

from halewright.core.mechanics import gravity, joints
from halewright.core.mechanics.angles import Array
from halewright.core.mechanics.kinematics import Posture
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
    found = np.empty(np.broadcast_shapes(a.shape, b.shape))
    for k, (u, v) in enumerate(((1, 2), (2, 0), (0, 1))):
        np.multiply(a[u], b[v], out=found[k])
        found[k] -= a[v] * b[u]
    return found


BEYOND: Mapping[str, frozenset[str]] = {
    joint: frozenset(gravity.beyond(segment)) for joint, segment in JOINTS.items()
}
"""For every joint the segments beyond it."""


def of_pulls(*, posture: Posture, pulls: Iterable[Pull]) -> dict[str, Array]:
    """Return the net joint moment vectors that balance these forces, (3, N), where not zero.

    In newton metres for each newton of tension.
    """
    return balancing(origins_m=posture.origins_m, pulls=pulls)


def balancing(*, origins_m: Mapping[str, Array], pulls: Iterable[Pull]) -> dict[str, Array]:
    """Return what `of_pulls` does, from the segments' origins alone."""
    forces: dict[str, Array] = {}
    turnings: dict[str, Array] = {}
    for pull in pulls:
        turning = cross(pull.at_m, pull.force_ratio)
        owner = pull.owner
        if owner in forces:
            forces[owner] = forces[owner] + pull.force_ratio
            turnings[owner] = turnings[owner] + turning
        else:
            forces[owner], turnings[owner] = pull.force_ratio, turning
    vectors: dict[str, Array] = {}
    for joint, members in BEYOND.items():
        owners = [owner for owner in forces if owner in members]
        if owners:
            force = functools.reduce(np.add, (forces[owner] for owner in owners))
            turning = functools.reduce(np.add, (turnings[owner] for owner in owners))
            vectors[joint] = cross(origins_m[JOINTS[joint]], force) - turning
    return vectors


def projected(*, posture: Posture, vectors: Mapping[str, Array]) -> dict[str, Array]:
    """Return moment vectors about the anatomical axes, (N,) for each axis."""
    told: dict[str, Array] = {}
    for joint, vector in vectors.items():
        along = axes(posture=posture, joint=joint)
        for name, axis in zip(axis_names(joint), along, strict=True):
            told[name] = np.asarray((axis * vector).sum(axis=0), dtype=np.float64)
    return told
