"""The joint angles of an option over its repetition: base poses and the way between poses.

`phase_ratio` is how far the repetition has gone (0 the start, 1 the far end); time runs over it
with minimum jerk, so that people and pictures start and stop softly.
"""

import math
from collections.abc import Mapping
from dataclasses import replace

import numpy as np
import numpy.typing as npt
from scipy.interpolate import PchipInterpolator

from halewright.core.catalogue.movement import BandPath, Option, PathNode, Pose, Tempo
from halewright.core.catalogue.words import Position, Sides
from halewright.core.mechanics import joints
from halewright.core.mechanics.skeleton import Body

Array = npt.NDArray[np.float64]

_RIGHT_ANGLE_RAD = math.pi / 2

SEATED_RAD: Mapping[str, float] = {
    f"{name}_{side}": _RIGHT_ANGLE_RAD
    for name in ("hip_flexion", "knee_flexion")
    for side in joints.SIDES
}
"""Hips and knees square, feet flat, arms hanging."""

BASES_RAD: Mapping[Position, Mapping[str, float]] = {
    Position.SEATED: SEATED_RAD,
    Position.RISING: {},
    Position.SUPPORTED_STANDING: {},
}
"""What a position's poses differ from; angles not named are zero. A rising pose is told from
upright standing, so the seated start of a sit-to-stand names its bent hips and knees."""


def at_phases(*, option: Option, phase_ratios: Array) -> dict[str, Array]:
    """Return every angle over the given phases, one array each.

    Between two poses an angle goes straight; through three or more it follows a monotone cubic, so
    it never swings beyond the authored angles.
    """
    base = dict.fromkeys(joints.NAMES, 0.0)
    base |= BASES_RAD[option.position]
    poses = sorted(option.poses, key=lambda pose: pose.phase_ratio)
    knots = np.array([pose.phase_ratio for pose in poses])
    within = np.clip(phase_ratios, 0.0, 1.0)
    angles: dict[str, Array] = {}
    for name, angle_rad in base.items():
        marks = np.array([pose.angles_rad.get(name, angle_rad) for pose in poses])
        if marks.size == 0 or np.all(marks == marks[0]):
            held = angle_rad if marks.size == 0 else float(marks[0])
            angles[name] = np.full(within.shape, held)
        elif knots.size == 2:
            angles[name] = np.interp(within, knots, marks)
        else:
            inside = np.clip(within, knots[0], knots[-1])
            angles[name] = np.asarray(PchipInterpolator(knots, marks)(inside), dtype=np.float64)
    return angles


def named(option: Option) -> frozenset[str]:
    """Return the angles that the option's poses name."""
    return frozenset(name for pose in option.poses for name in pose.angles_rad)


def resting_sides(option: Option) -> tuple[str, ...]:
    """Return the sides whose arm no pose names: that arm rests or holds, see `kinematics`."""
    spoken = named(option)
    return tuple(
        side for side in joints.SIDES if not any(f"{name}_{side}" in spoken for name in joints.ARM)
    )


def reach(
    *, body: Body, forward_m: Array, outward_m: Array, down_m: Array, rotation_rad: float
) -> dict[str, Array]:
    """Return the shoulder and elbow angles that bring the grip to a place seen from the shoulder.

    The place is in the upper trunk's axes, `outward_m` to the arm's own side; the shoulder keeps
    `rotation_rad`. Exact two-link reach: the law of cosines for the elbow, then abduction for the
    sideways and flexion for the forward part. Out of reach is approached with a straight arm.
    """
    upper_m = body.length_m("upper_arm")
    lower_m = body.length_m("forearm") + body.grip_m
    squared_m2 = forward_m**2 + outward_m**2 + down_m**2
    cosine = (squared_m2 - upper_m**2 - lower_m**2) / (2.0 * upper_m * lower_m)
    elbow = np.arccos(np.clip(cosine, -1.0, 1.0))
    ahead_m = lower_m * np.sin(elbow) * math.cos(rotation_rad)
    aside_m = lower_m * np.sin(elbow) * math.sin(rotation_rad)
    along_m = upper_m + lower_m * np.cos(elbow)
    turn = np.arcsin(np.clip(outward_m / np.hypot(aside_m, along_m), -1.0, 1.0))
    abduction = turn - np.arctan2(aside_m, along_m)
    below_m = along_m * np.cos(abduction) - aside_m * np.sin(abduction)
    flexion = np.arctan2(forward_m, down_m) - np.arctan2(ahead_m, below_m)
    return {
        "shoulder_flexion": np.asarray(flexion),
        "shoulder_abduction": np.asarray(abduction),
        "shoulder_rotation": np.full(elbow.shape, rotation_rad),
        "elbow_flexion": elbow,
    }


def minimum_jerk(share: Array) -> Array:
    """Return the share of the way at a share of the time: 10 s³ - 15 s⁴ + 6 s⁵.

    Source: Flash & Hogan 1985 J Neurosci 5:1688-1703 (from memory).
    """
    return share**3 * (10.0 - 15.0 * share + 6.0 * share**2)


def phase_at(*, tempo: Tempo, times_s: Array) -> Array:
    """Return the phase of a repetition at times counted from its start; beyond it, it repeats."""
    within = np.mod(times_s, tempo.rep_s)
    out = np.clip(within / max(tempo.out_s, 1e-9), 0.0, 1.0)
    turned_s = tempo.out_s + tempo.hold_s
    back = np.clip((within - turned_s) / max(tempo.back_s, 1e-9), 0.0, 1.0)
    return minimum_jerk(out) * (1.0 - minimum_jerk(back))


def mirrored(option: Option) -> Option:
    """Return the option with its sides exchanged: poses, and the points of its band's way."""
    poses = tuple(
        Pose(phase_ratio=pose.phase_ratio, angles_rad=joints.mirror(pose.angles_rad))
        for pose in option.poses
    )
    return replace(option, poses=poses, paths=tuple(_mirrored_path(path) for path in option.paths))


def _mirrored_path(path: BandPath) -> BandPath:
    nodes = tuple(
        PathNode(kind=node.kind, at=joints.other_side(node.at), friction_ratio=node.friction_ratio)
        for node in path.nodes
    )
    return replace(path, nodes=nodes)


def within(option: Option, *, ranges_rad: Mapping[str, tuple[float, float]]) -> Option:
    """Return the option as done by somebody whose joints go only so far, side by side.

    `ranges_rad` gives the least and the greatest of an angle by its full name, such as
    `shoulder_flexion_left`; joints not named are free. The authored poses are clipped, and what
    lies between follows smoothly: clipping every frame would put a kink where the limit is met.
    An angle that no pose names is left as it is.
    """
    poses = tuple(
        Pose(
            phase_ratio=pose.phase_ratio,
            angles_rad={
                name: min(max(angle, ranges_rad[name][0]), ranges_rad[name][1])
                if name in ranges_rad
                else angle
                for name, angle in pose.angles_rad.items()
            },
        )
        for pose in option.poses
    )
    return replace(option, poses=poses)


def takes_turns(option: Option) -> bool:
    """Return whether the sides move one after the other, so that the mirror image is done too."""
    return option.sides in (Sides.ALTERNATE, Sides.EACH)
