"""What one option asks of a person, told from its joint angles, its band's way and its file.

Angles come from the repetition's own phases on the reference body; what angles cannot tell comes
from `core.catalogue.movement.Declared`. A movement done by turns asks the same of both sides.
"""

import math
from collections.abc import Mapping

import numpy as np

from halewright.core.catalogue.movement import BandPath, NodeKind, Option
from halewright.core.catalogue.words import HandSupport, Position, SetUp
from halewright.core.mechanics import angles as angle_rules
from halewright.core.mechanics import joints, kinematics, points
from halewright.core.mechanics.angles import Array
from halewright.core.mechanics.demands import Demands
from halewright.core.mechanics.kinematics import Posture
from halewright.core.mechanics.skeleton import REFERENCE_BODY, Body
from halewright.core.people.limits import Measure

PHASES = np.linspace(0.0, 1.0, 21)
"""Where a repetition is looked at; authored poses lie at phases among these or close to them."""

OVERHEAD_RAD = math.pi / 2
"""Upper arms above shoulder height: common practice."""
NEAR_FACE_M = 0.25
"""A line of pull that passes nearer than this could hit the face if the band lets go: our rule."""
WORK_S = 40.0
"""The work interval in which a round's reps are counted, where none is given: common practice."""

_ROUND_A_LIMB = frozenset({SetUp.ROUND_THIGHS, SetUp.ACROSS_THIGHS, SetUp.UNDER_THIGHS})
_LIMB_POINTS = frozenset(
    {"thigh_low", "thigh_mid", "thigh_top", "under_thigh", "knee", "shank", "ankle"}
)
_HELD = {
    HandSupport.TWO_HANDS: 1.0,
    HandSupport.ONE_HAND: 2.0,
    HandSupport.FINGERTIPS: 3.0,
    HandSupport.NONE: 4.0,
}


def of(
    *, option: Option, power: bool, work_s: float = WORK_S, body: Body = REFERENCE_BODY
) -> Demands:
    """Return the demands of an option; `power` says that it is done fast on the way out.

    `work_s` is the length of the work interval, for the number of rises in a round. Tension is
    not known here: it needs a measured band.
    """
    posture = kinematics.posture(body=body, option=option, phase_ratios=PHASES)
    shared = _shared(option=option, posture=posture, power=power, work_s=work_s)
    sides = [shared | _of_side(posture=posture, side=side) for side in joints.SIDES]
    if angle_rules.takes_turns(option):
        sides = [{measure: max(sides[0][measure], sides[1][measure]) for measure in sides[0]}] * 2
    return Demands(left=_told(sides[0]), right=_told(sides[1]))


def _told(measures: Mapping[Measure, float]) -> dict[Measure, float]:
    """Leave out what is zero: a measure that is missing is zero."""
    return {measure: value for measure, value in measures.items() if value > 0.0}


def _most(values: Array) -> float:
    """Return the greatest value over the repetition, or 0 where it is never positive."""
    greatest = max(0.0, float(values.max()))
    # Angles within a thousandth of a degree of zero are rounding, not movement.
    return 0.0 if greatest < 1e-5 else greatest


def _of_side(*, posture: Posture, side: str) -> dict[Measure, float]:
    at = posture.angles_rad
    measures = {
        Measure.SHOULDER_ELEVATION: _most(elevation_rad(posture=posture, side=side)),
        Measure.SHOULDER_EXTENSION: _most(-at[f"shoulder_flexion_{side}"]),
        Measure.SHOULDER_EXTERNAL_ROTATION: _most(at[f"shoulder_rotation_{side}"]),
        Measure.ELBOW_FLEXION: _most(at[f"elbow_flexion_{side}"]),
        Measure.HIP_FLEXION: _most(at[f"hip_flexion_{side}"]),
        Measure.HIP_EXTENSION: _most(-at[f"hip_flexion_{side}"]),
        Measure.HIP_ADDUCTION: _most(-at[f"hip_abduction_{side}"]),
        Measure.HIP_INTERNAL_ROTATION: _most(-at[f"hip_rotation_{side}"]),
        Measure.KNEE_FLEXION: _most(at[f"knee_flexion_{side}"]),
    }
    overhead = measures[Measure.SHOULDER_ELEVATION] > OVERHEAD_RAD + 1e-6
    measures[Measure.ARMS_OVERHEAD] = 1.0 if overhead else 0.0
    return measures


def elevation_rad(*, posture: Posture, side: str) -> Array:
    """Return the angle of an upper arm from the trunk's downward axis, (N,), in any direction."""
    arm = posture.axes[f"upper_arm_{side}"][:, 2]
    trunk = posture.axes["upper_trunk"][:, 2]
    return np.asarray(np.arccos(np.clip((arm * trunk).sum(axis=0), -1.0, 1.0)), dtype=np.float64)


def _shared(
    *, option: Option, posture: Posture, power: bool, work_s: float
) -> dict[Measure, float]:
    """Return what is asked of the whole person."""
    at, told = posture.angles_rad, option.declared
    bend_rad = _most(at["trunk_flexion"])
    twist_rad = _most(np.abs(at["trunk_rotation"]))
    loaded = loads_trunk(option)
    rises = told.rises_per_rep_count * math.floor(work_s / option.tempo.rep_s + 1e-9)
    banded = bool(option.paths) or option.set_up is not SetUp.NONE
    seated = option.position is Position.SEATED
    return {
        Measure.TRUNK_FLEXION: bend_rad,
        Measure.TRUNK_FLEXION_LOADED: bend_rad if loaded else 0.0,
        Measure.TRUNK_ROTATION_LOADED: twist_rad if loaded else 0.0,
        Measure.NECK_EXTENSION: _most(-at["neck_flexion"]),
        Measure.KNEE_LOAD: told.knee_load_score,
        Measure.BALANCE: told.balance_score,
        Measure.GRIP: told.grip_score,
        Measure.BREATH_HOLD: told.breath_hold_score,
        Measure.STEPS_TO_REMEMBER: told.steps_to_remember_count,
        Measure.RISES: rises,
        Measure.STANDING: 0.0 if seated else _HELD[option.support],
        Measure.BAND: 1.0 if banded else 0.0,
        Measure.FOOT_ANCHOR: 1.0 if anchored_at_foot(option) else 0.0,
        Measure.PULL_TOWARDS_FACE: 1.0 if pulls_towards_face(posture=posture, option=option) else 0,
        Measure.BAND_ON_SKIN: 1.0 if on_a_limb(option) else 0.0,
        Measure.POWER: 1.0 if power else 0.0,
    }


def loads_trunk(option: Option) -> bool:
    """Return whether a band pulls at hands or trunk, or the body rises: the back bears a load."""
    at = {node.at for path in option.paths for node in path.nodes}
    pulled = any(joints.plain(name) in ("grip", "wrist", "upper_back") for name in at)
    return pulled or option.position is Position.RISING


def anchored_at_foot(option: Option) -> bool:
    """Return whether a band is held underfoot."""
    if option.set_up is SetUp.UNDER_FEET:
        return True
    return any(node.at in points.SOLES for path in option.paths for node in path.nodes)


def on_a_limb(option: Option) -> bool:
    """Return whether a band lies on or is wound round a limb."""
    laid = any(
        node.kind is NodeKind.WRAP or joints.plain(node.at) in _LIMB_POINTS
        for path in option.paths
        for node in path.nodes
    )
    return laid or option.set_up in _ROUND_A_LIMB


def pulls_towards_face(*, posture: Posture, option: Option) -> bool:
    """Return whether a band held underfoot is drawn towards the head.

    True where the gripped hand ends nearer the face than it began and above the waist, or where
    the line from foot to hand, prolonged the way the band would fly, passes close to the face.
    """
    return any(_path_towards_face(posture=posture, path=path) for path in option.paths)


def _path_towards_face(*, posture: Posture, path: BandPath) -> bool:
    names = [node.at for node in path.nodes]
    soles = [name for name in names if name in points.SOLES]
    grips = [name for name in names if name in points.GRIPS]
    if not soles or not grips:
        return False
    face = posture.point_m("face")
    waist_z_m = posture.point_m("waist")[2]
    for grip in grips:
        hand = posture.point_m(grip)
        gap_m = np.linalg.norm(hand - face, axis=0)
        if gap_m[-1] < gap_m[0] - 0.01 and hand[2, -1] > waist_z_m[-1]:
            return True
        if any(
            float(_miss_m(start_m=posture.point_m(sole), through_m=hand, at_m=face).min())
            < NEAR_FACE_M
            for sole in soles
        ):
            return True
    return False


def _miss_m(*, start_m: Array, through_m: Array, at_m: Array) -> Array:
    """Return how near the ray from the foot through the hand passes by a point, (N,)."""
    way = through_m - start_m
    unit = way / np.maximum(np.linalg.norm(way, axis=0), 1e-9)
    along_m = np.maximum(((at_m - start_m) * unit).sum(axis=0), 0.0)
    return np.asarray(np.linalg.norm(start_m + unit * along_m - at_m, axis=0), dtype=np.float64)
