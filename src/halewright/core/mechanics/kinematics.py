"""Forward kinematics: where every segment and named point is, over the phases of a repetition.

World axes: x the way the person faces at the start, y to their left, z up; the floor is z = 0 and
the hips start above x = y = 0. Arrays are component-first with the frames last: a point is (3, N),
a segment's axes (3, 3, N) with its own axes as columns.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from halewright.core.catalogue.movement import Option
from halewright.core.catalogue.words import Position
from halewright.core.mechanics import angles as angle_rules
from halewright.core.mechanics import chair as chairs
from halewright.core.mechanics import joints, points, resting
from halewright.core.mechanics.angles import Array
from halewright.core.mechanics.chair import Chair
from halewright.core.mechanics.skeleton import PARENTS, SEGMENTS, Body, Vector

_X, _Y, _Z = 0, 1, 2
_FLOOR_TOLERANCE_M = 1e-3
_ALIKE_RAD = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """One rotation of a joint: which angle, about which of the segment's axes, which way."""

    angle: str
    axis: int
    sign: float
    share: float = 1.0


def _turn(angle: str, axis: int, sign: float, share: float = 1.0) -> Turn:
    return Turn(angle=angle, axis=axis, sign=sign, share=share)


def _turns() -> dict[str, tuple[Turn, ...]]:
    """Name each segment's turns, outermost first; later turns are about axes already turned."""
    half_trunk = (
        _turn("trunk_flexion", _Y, 1.0, 0.5),
        _turn("trunk_side_bend", _X, -1.0, 0.5),
        _turn("trunk_rotation", _Z, 1.0, 0.5),
    )
    turns: dict[str, tuple[Turn, ...]] = {
        "lower_trunk": (
            _turn("pelvis_rotation", _Z, 1.0),
            _turn("pelvis_tilt", _Y, 1.0),
            _turn("pelvis_list", _X, -1.0),
        ),
        "middle_trunk": half_trunk,
        "upper_trunk": half_trunk,
        "head": (
            _turn("neck_flexion", _Y, 1.0),
            _turn("neck_side_bend", _X, -1.0),
            _turn("neck_rotation", _Z, 1.0),
        ),
    }
    for side, sign in (("left", 1.0), ("right", -1.0)):
        turns[f"upper_arm_{side}"] = (
            _turn(f"shoulder_flexion_{side}", _Y, -1.0),
            _turn(f"shoulder_abduction_{side}", _X, sign),
            _turn(f"shoulder_rotation_{side}", _Z, sign),
        )
        turns[f"forearm_{side}"] = (
            _turn(f"elbow_flexion_{side}", _Y, -1.0),
            _turn(f"forearm_supination_{side}", _Z, sign),
        )
        turns[f"hand_{side}"] = (_turn(f"wrist_flexion_{side}", _X, -sign),)
        turns[f"thigh_{side}"] = (
            _turn(f"hip_flexion_{side}", _Y, -1.0),
            _turn(f"hip_abduction_{side}", _X, sign),
            _turn(f"hip_rotation_{side}", _Z, sign),
        )
        turns[f"shank_{side}"] = (_turn(f"knee_flexion_{side}", _Y, 1.0),)
        turns[f"foot_{side}"] = (_turn(f"ankle_dorsiflexion_{side}", _Y, -1.0),)
    return turns


TURNS: Mapping[str, tuple[Turn, ...]] = _turns()
"""The joints of the chain. At hip and shoulder flexion comes first, so that abduction is in the
plane of the flexed limb: with the arm level, it opens the arm sideways."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Posture:
    """The whole body over N phases, with its chair.

    `origins_m` (3, N) and `axes` (3, 3, N) by segment; `angles_rad` (N,) by name as they are after
    feet and seat have had their say.
    """

    body: Body
    chair: Chair
    phase_ratios: Array
    angles_rad: Mapping[str, Array]
    origins_m: Mapping[str, Array]
    axes: Mapping[str, Array]

    @property
    def count(self) -> int:
        """The number of frames."""
        return int(self.phase_ratios.size)

    def point_m(self, name: str) -> Array:
        """Return a named point of `core.mechanics.points`, (3, N); KeyError if there is none."""
        place = points.places(body=self.body, chair=self.chair)[name]
        return self.located_m(owner=place.owner, at_m=place.at_m)

    def located_m(self, *, owner: str, at_m: Vector) -> Array:
        """Return a point given in a segment's (or the chair's) own axes, (3, N)."""
        local = np.asarray(at_m, dtype=np.float64)[:, None]
        if owner == points.CHAIR:
            at = local + np.array([[self.chair.x_m], [0.0], [0.0]])
            return np.repeat(at, self.count, axis=1)
        return self.origins_m[owner] + along(self.axes[owner], local)

    def points_m(self) -> dict[str, Array]:
        """Return every named point, (3, N) each."""
        return {
            name: self.located_m(owner=place.owner, at_m=place.at_m)
            for name, place in points.places(body=self.body, chair=self.chair).items()
        }


def posture(
    *, body: Body, option: Option, phase_ratios: Array | float, seat_rise_m: float = 0.0
) -> Posture:
    """Return body and chair at these phases, as authored with the right side working.

    For the other side pass `angles.mirrored(option)`. Arms that no pose names rest (`resting`).
    Seated hips stay on the seat and soles never sink through the floor (the thigh yields upward);
    standing and rising feet stay where they are. `seat_rise_m` seats a sitter so much higher than
    level thighs need: the thighs slope down to the knees and the shanks keep their direction.
    """
    phases = np.atleast_1d(np.asarray(phase_ratios, dtype=np.float64))
    # The frame in which the chair and the feet find their places comes first and is cut off again.
    anchored = np.concatenate(([_anchor_phase(option)], phases))
    turned = _grounded(body=body, option=option, phase_ratios=anchored, rise_m=seat_rise_m)
    origins_m, axes = chain(body=body, angles_rad=turned)
    root_m = _root(body=body, option=option, angles_rad=turned, origins_m=origins_m, axes=axes)
    if option.position is Position.SEATED:
        root_m[_Z] += seat_rise_m
    chair = _chair(body=body, option=option, root_m=root_m)
    if angle_rules.resting_sides(option):
        turned = resting.arms(
            body=body,
            option=option,
            chair=chair,
            angles_rad=turned,
            origins_m={name: at_m + root_m for name, at_m in origins_m.items()},
            axes=axes,
        )
        origins_m, axes = chain(body=body, angles_rad=turned)
    return Posture(
        body=body,
        chair=chair,
        phase_ratios=phases,
        angles_rad={name: values[1:] for name, values in turned.items()},
        origins_m={name: (at_m + root_m)[:, 1:] for name, at_m in origins_m.items()},
        axes={name: frame[:, :, 1:] for name, frame in axes.items()},
    )


def _grounded(
    *, body: Body, option: Option, phase_ratios: Array, rise_m: float
) -> dict[str, Array]:
    """Return the option's angles once seat and floor have had their say."""
    turned = angle_rules.at_phases(option=option, phase_ratios=phase_ratios)
    if option.position is not Position.SEATED:
        return _flat_soles(body=body, option=option, angles_rad=turned)
    turned = _on_a_higher_seat(body=body, angles_rad=turned, rise_m=rise_m)
    return _on_the_floor(body=body, angles_rad=turned, hips_m=body.hip_height_m + rise_m)


def chain(
    *, body: Body, angles_rad: Mapping[str, Array]
) -> tuple[dict[str, Array], dict[str, Array]]:
    """Return every segment's origin (3, N) and axes (3, 3, N), the hips' midpoint at zero."""
    joints_m = {each.name: np.array(each.joint_m)[:, None] for each in body.segments}
    return chain_of(joints_m=joints_m, angles_rad=angles_rad)


def chain_of(
    *, joints_m: Mapping[str, Array], angles_rad: Mapping[str, Array]
) -> tuple[dict[str, Array], dict[str, Array]]:
    """Return origins and axes as `chain` does, for joints told by segment, (3, 1) or (3, N).

    With (3, N) every frame may be of another person.
    """
    count = next(iter(angles_rad.values())).size
    origins_m: dict[str, Array] = {}
    axes: dict[str, Array] = {}
    turned = {name: (np.cos(angle), np.sin(angle)) for name, angle in angles_rad.items()}
    for segment in SEGMENTS:
        parent = PARENTS[segment]
        if parent is None:
            frame = np.repeat(np.eye(3)[:, :, None], count, axis=2)
            origin = np.zeros((3, count))
        else:
            frame = axes[parent].copy()
            origin = origins_m[parent] + along(frame, joints_m[segment])
        for turn in TURNS[segment]:
            if turn.share != 1.0:
                angle_rad = turn.share * angles_rad[turn.angle]
                cosine, sine = np.cos(angle_rad), np.sin(angle_rad)
            else:
                cosine, sine = turned[turn.angle]
            _rotate(frame=frame, turn=turn, cosine=cosine, sine=turn.sign * sine)
        origins_m[segment] = origin
        axes[segment] = frame
    return origins_m, axes


def along(frame: Array, local_m: Array) -> Array:
    """Return a place told in a frame's axes as seen in the world; (3, 1) or (3, N) in the frame."""
    moved: Array = frame[:, 0] * local_m[0] + frame[:, 1] * local_m[1] + frame[:, 2] * local_m[2]
    return moved


def _rotate(*, frame: Array, turn: Turn, cosine: Array, sine: Array) -> None:
    """Turn a frame in place about one of its own axes."""
    u, v = (turn.axis + 1) % 3, (turn.axis + 2) % 3
    along_u = frame[:, u] * cosine + frame[:, v] * sine
    frame[:, v] = frame[:, v] * cosine - frame[:, u] * sine
    frame[:, u] = along_u


def _anchor_phase(option: Option) -> float:
    """Return the phase that places the feet and the chair: the most bent one when rising."""
    if option.position is not Position.RISING or not option.poses:
        return 0.0

    def bend_rad(angles_rad: Mapping[str, float]) -> float:
        return sum(angles_rad.get(f"knee_flexion_{side}", 0.0) for side in joints.SIDES)

    return max(option.poses, key=lambda pose: bend_rad(pose.angles_rad)).phase_ratio


def _lowest_m(
    *, body: Body, side: str, origins_m: Mapping[str, Array], axes: Mapping[str, Array]
) -> tuple[Array, Array]:
    """Return the lowest of heel and ball of one foot: its height and its place (3, N)."""
    at = points.places(body=body, chair=Chair(x_m=0.0, seat_height_m=0.0))
    soles = np.stack(
        [
            origins_m[f"foot_{side}"]
            + np.einsum("ijn,j->in", axes[f"foot_{side}"], np.asarray(at[f"{name}_{side}"].at_m))
            for name in ("heel", "toe")
        ]
    )
    which = np.argmin(soles[:, _Z], axis=0)
    lowest = np.take_along_axis(soles, which[None, None, :], axis=0)[0]
    return lowest[_Z], lowest


def _on_a_higher_seat(
    *, body: Body, angles_rad: dict[str, Array], rise_m: float
) -> dict[str, Array]:
    """Slope the thighs down by as much as brings the knees back to their height."""
    slope_rad = float(np.arcsin(np.clip(rise_m / body.length_m("thigh"), -0.9, 0.9)))
    names = (f"{name}_{side}" for name in ("hip_flexion", "knee_flexion") for side in joints.SIDES)
    return angles_rad | {name: angles_rad[name] - slope_rad for name in names}


def _on_the_floor(*, body: Body, angles_rad: dict[str, Array], hips_m: float) -> dict[str, Array]:
    """Raise the thigh where a seated foot would sink into the floor, as the body does."""
    turned = dict(angles_rad)
    for _ in range(4):
        origins_m, axes = chain(body=body, angles_rad=turned)
        sunk = False
        for side in joints.SIDES:
            height_m, lowest = _lowest_m(body=body, side=side, origins_m=origins_m, axes=axes)
            depth_m = np.maximum(0.0, -(height_m + hips_m))
            if float(depth_m.max()) < _FLOOR_TOLERANCE_M:
                continue
            sunk = True
            # A small turn at the hip lifts the sole by the turn times its distance in front.
            hip = origins_m[f"thigh_{side}"]
            lever_m = np.maximum(np.hypot(lowest[_X] - hip[_X], lowest[_Y] - hip[_Y]), 0.1)
            name = f"hip_flexion_{side}"
            turned[name] = turned[name] + depth_m / lever_m
        if not sunk:
            break
    return turned


def _flat_soles(*, body: Body, option: Option, angles_rad: dict[str, Array]) -> dict[str, Array]:
    """Turn the ankles that no pose names so that soles that carry weight stay flat."""
    spoken = angle_rules.named(option)
    same = all(
        np.allclose(angles_rad[f"{name}_left"], angles_rad[f"{name}_right"])
        for name in ("hip_flexion", "knee_flexion")
    )
    if option.position is Position.SUPPORTED_STANDING and not same:
        return angles_rad
    _, axes = chain(body=body, angles_rad=angles_rad)
    turned = dict(angles_rad)
    for side in joints.SIDES:
        name = f"ankle_dorsiflexion_{side}"
        if name not in spoken:
            shank = axes[f"shank_{side}"]
            turned[name] = np.arctan2(-shank[_Z, _X], shank[_Z, _Z])
    return turned


def _root(
    *,
    body: Body,
    option: Option,
    angles_rad: Mapping[str, Array],
    origins_m: Mapping[str, Array],
    axes: Mapping[str, Array],
) -> Array:
    """Return where the hips' midpoint is (3, N): on the seat, or where the feet carry it."""
    count = origins_m["lower_trunk"].shape[1]
    if option.position is Position.SEATED:
        return np.repeat(np.array([[0.0], [0.0], [body.hip_height_m]]), count, axis=1)
    left_m, right_m = (
        _lowest_m(body=body, side=side, origins_m=origins_m, axes=axes)[0] for side in joints.SIDES
    )
    ball_m = np.asarray(_ball_m(body))
    toes = [
        origins_m[f"foot_{side}"] + np.einsum("ijn,j->in", axes[f"foot_{side}"], ball_m)
        for side in joints.SIDES
    ]
    left_share = _standing_share(angles_rad)
    moved = left_share * (toes[0] - toes[0][:, :1]) + (1.0 - left_share) * (
        toes[1] - toes[1][:, :1]
    )
    root = np.asarray(-moved, dtype=np.float64)
    root[_Z] = -np.minimum(left_m, right_m)
    return root


def _standing_share(angles_rad: Mapping[str, Array]) -> float:
    """Return the left foot's share of the weight: the leg that moves less is the one stood on.

    It stays the same over the repetition, so that the body never jumps from foot to foot.
    """
    left_rad, right_rad = (
        sum(float(np.ptp(angles_rad[f"{name}_{side}"])) for name in joints.LEG)
        for side in joints.SIDES
    )
    if abs(left_rad - right_rad) < _ALIKE_RAD:
        return 0.5
    return 1.0 if left_rad < right_rad else 0.0


def _ball_m(body: Body) -> Vector:
    return points.places(body=body, chair=Chair(x_m=0.0, seat_height_m=0.0))["toe_left"].at_m


def _chair(*, body: Body, option: Option, root_m: Array) -> Chair:
    if option.position is Position.SUPPORTED_STANDING:
        return chairs.in_front()
    return chairs.under(
        hip_height_m=float(root_m[_Z, 0]),
        buttock_m=body.thigh_radius_m,
        has_arms=option.needs_chair_arms,
    )
