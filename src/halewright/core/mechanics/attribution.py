"""What a movement trains: net joint moments named as muscle groups by its declared prime movers.

A computed moment never names a muscle by itself: signs change within a repetition, and several
muscles cross a joint. So the movement's file declares its prime movers, and the moments say
whether, where and how much each is loaded in its own direction. Which group turns which joint which
way is common anatomy (common practice), written down for groups as leaders name them.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from halewright.core.catalogue.movement import Movement, Option
from halewright.core.catalogue.words import Muscle
from halewright.core.errors import Problem
from halewright.core.mechanics import geometry as geometries
from halewright.core.mechanics import joints, loads, points, rubber
from halewright.core.mechanics.angles import Array
from halewright.core.mechanics.loads import JointLoad, Load
from halewright.core.mechanics.path import NoBandWay
from halewright.core.mechanics.skeleton import REFERENCE_BODY

ACTIONS: Mapping[Muscle, tuple[tuple[str, float], ...]] = {
    Muscle.QUADRICEPS: (("knee_flexion", -1.0),),
    Muscle.HAMSTRINGS: (("knee_flexion", 1.0), ("hip_flexion", -1.0)),
    Muscle.GLUTEALS: (("hip_flexion", -1.0), ("hip_abduction", 1.0), ("hip_rotation", 1.0)),
    Muscle.HIP_ABDUCTORS: (("hip_abduction", 1.0),),
    Muscle.HIP_ADDUCTORS: (("hip_abduction", -1.0),),
    Muscle.HIP_FLEXORS: (("hip_flexion", 1.0),),
    Muscle.CALVES: (("ankle_dorsiflexion", -1.0),),
    Muscle.SHINS: (("ankle_dorsiflexion", 1.0),),
    Muscle.CHEST: (
        ("shoulder_horizontal_abduction", -1.0),
        ("shoulder_flexion", 1.0),
        ("shoulder_rotation", -1.0),
    ),
    # The broad back muscle, the rear deltoid and what draws the shoulder blades together.
    Muscle.UPPER_BACK: (
        ("shoulder_flexion", -1.0),
        ("shoulder_horizontal_abduction", 1.0),
        ("shoulder_abduction", -1.0),
    ),
    Muscle.SHOULDERS: (
        ("shoulder_flexion", 1.0),
        ("shoulder_abduction", 1.0),
        ("shoulder_horizontal_abduction", 1.0),
    ),
    Muscle.ROTATOR_CUFF: (("shoulder_rotation", 1.0), ("shoulder_abduction", 1.0)),
    Muscle.BICEPS: (("elbow_flexion", 1.0), ("forearm_supination", 1.0)),
    Muscle.TRICEPS: (("elbow_flexion", -1.0),),
    Muscle.TRUNK: (
        ("trunk_flexion", 1.0),
        ("trunk_flexion", -1.0),
        ("trunk_side_bend", 1.0),
        ("trunk_side_bend", -1.0),
        ("trunk_rotation", 1.0),
        ("trunk_rotation", -1.0),
    ),
    Muscle.FOREARMS: (
        ("wrist_flexion", 1.0),
        ("wrist_flexion", -1.0),
        ("wrist_deviation", 1.0),
        ("wrist_deviation", -1.0),
        ("forearm_supination", 1.0),
        ("forearm_supination", -1.0),
    ),
}
"""Plain axis and the sign of the net joint moment that the group can give."""

LEAST_NM_PER_N = 0.01
"""A lever of a centimetre: less than this is not a load in that direction: our rule."""
_TRIAL_N = 20.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Trained:
    """How a muscle group is loaded: the axis of its greatest net joint moment, its peak and phase.

    `axis` is None where no moment is in the group's direction. `loaded_share` is the share of the
    range in which that axis is loaded in its direction. `is_prime` says that the file names it a
    prime mover, not a helper.
    """

    muscle: Muscle
    is_prime: bool
    axis: str | None
    peak_nm: float
    phase_ratio: float
    loaded_share: float


def trained(*, movement: Movement, load: Load) -> tuple[Trained, ...]:
    """Return how every declared muscle group is loaded by band and weight together."""
    declared = [(muscle, True) for muscle in movement.prime_movers]
    declared += [(muscle, False) for muscle in movement.helper_muscles]
    moments_nm = {axis: joint.net_nm for axis, joint in load.joints.items()}
    return tuple(
        _trained(muscle=muscle, is_prime=is_prime, moments_nm=moments_nm, phases=load.phase_ratios)
        for muscle, is_prime in declared
    )


def _trained(
    *, muscle: Muscle, is_prime: bool, moments_nm: Mapping[str, Array], phases: Array
) -> Trained:
    best = Trained(
        muscle=muscle, is_prime=is_prime, axis=None, peak_nm=0.0, phase_ratio=0.0, loaded_share=0.0
    )
    for axis, values in moments_nm.items():
        for plain, sign in ACTIONS[muscle]:
            if joints.plain(axis) != plain or bool(np.isnan(values).any()):
                continue
            asked = sign * values
            top = int(np.argmax(asked))
            if float(asked[top]) > abs(best.peak_nm):
                best = Trained(
                    muscle=muscle,
                    is_prime=is_prime,
                    axis=axis,
                    peak_nm=float(values[top]),
                    phase_ratio=float(phases[top]),
                    loaded_share=float(np.mean(asked > 0.0)),
                )
    return best


def check(movement: Movement) -> Iterator[Problem]:
    """Yield a problem for every prime mover that a banded option nowhere loads in its direction.

    Judged by the band's part alone on the reference body; in a rise the weight counts too, which
    the band only adds to. Hands that grip a band always load the forearms.
    """
    for option in movement.options:
        if not option.paths or not option.poses:
            continue
        found = _band_part(option)
        if found is None:
            continue
        for muscle in movement.prime_movers:
            if muscle is Muscle.FOREARMS and _grips(option):
                continue
            best = _trained(
                muscle=muscle,
                is_prime=True,
                moments_nm=found,
                phases=np.linspace(0.0, 1.0, geometries.FRAMES),
            )
            if abs(best.peak_nm) < LEAST_NM_PER_N * _TRIAL_N:
                yield Problem(
                    file=f"{movement.id}.toml",
                    read=f"{option.kind.value}: prime mover {muscle.value} is nowhere loaded in "
                    "its direction",
                    mend="Name the muscles that the band's pull asks for, or mend the poses or the "
                    "band's way (prime_mover_not_loaded).",
                )


def _grips(option: Option) -> bool:
    return any(node.at in points.GRIPS for path in option.paths for node in path.nodes)


def _band_part(option: Option) -> dict[str, Array] | None:
    """Return the moments of a trial band that pulls 20 N at its longest, or None if not laid."""
    try:
        shape = geometries.of(body=REFERENCE_BODY, option=option)
    except (NoBandWay, KeyError):
        return None
    curve = rubber.Curve(linear_n=10.0, softening_n=10.0, stiffening_n=0.0, most_ratio=4.0)
    law = rubber.Estimate(curve=curve, draws_n=np.array([[10.0, 10.0, 0.0]]))
    found = loads.given(
        geometry=shape, law=law, target_tension_n=_TRIAL_N * shape.bands[0].laid.strands
    )
    if not isinstance(found, Load):
        return None
    rising = option.position.value == "rising"
    return {axis: _part(joint, rising=rising) for axis, joint in found.joints.items()}


def _part(joint: JointLoad, *, rising: bool) -> Array:
    return joint.net_nm if rising else joint.band_nm
