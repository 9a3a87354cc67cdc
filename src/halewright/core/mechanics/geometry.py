"""Everything about a person, a movement and a band's way that does not depend on the band itself.

Compute it once and ask `loads` for many bands and grips.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from halewright.core import units
from halewright.core.catalogue.movement import Option
from halewright.core.mechanics import angles as angle_rules
from halewright.core.mechanics import bearing, joints, kinematics, moments, spans
from halewright.core.mechanics.angles import Array
from halewright.core.mechanics.skeleton import Body
from halewright.core.mechanics.spans import Laid, Pull, Run

FRAMES = 61
"""Phases from the start to the far end at which a repetition is looked at."""
POSE_SD_RAD = units.radians(5.0)
"""How far a person's joint is from the shown angle: our rule, after physics notes §5."""
STATURE_SD_RATIO = 0.01 / 1.62
"""A centimetre in an ordinary stature: our rule."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RunGeometry:
    """One run that stretches, over N frames.

    `moments_nm` holds for each region the net joint moments, by axis, for each newton of its
    tension. `length_sd_m` is what stature and pose leave open of the length.
    """

    run: Run
    length_m: Array
    moments_nm: tuple[Mapping[str, Array], ...]
    length_sd_m: Array


@dataclass(frozen=True, slots=True, kw_only=True)
class BandGeometry:
    """One band of an option: how it is laid, and its runs."""

    laid: Laid
    runs: tuple[RunGeometry, ...]

    @property
    def longest_m(self) -> float:
        """Return the greatest length of any run over the repetition."""
        return max(float(run.length_m.max()) for run in self.runs)


@dataclass(frozen=True, slots=True, kw_only=True)
class Geometry:
    """A person doing one option, from the start to the far end, the right side working.

    `weight_nm` are the net joint moments, by axis, that balance the body's own weight.
    """

    body: Body
    option: Option
    phase_ratios: Array
    bands: tuple[BandGeometry, ...]
    weight_nm: Mapping[str, Array]


def of(
    *,
    body: Body,
    option: Option,
    strands: int | None = None,
    frames: int = FRAMES,
    seat_rise_m: float = 0.0,
) -> Geometry:
    """Return the geometry of an option for a body; `strands` None as the file says.

    `seat_rise_m` is how much higher a sitter's chair is than level thighs need. Raises NoBandWay
    where a band's way cannot be laid.
    """
    phase_ratios = np.linspace(0.0, 1.0, frames)
    posture = kinematics.posture(
        body=body, option=option, phase_ratios=phase_ratios, seat_rise_m=seat_rise_m
    )
    moving = _moving_joints(posture=posture, option=option)
    bands = []
    for path in option.paths:
        laid = spans.lay(posture=posture, path=path, strands=strands)
        runs = tuple(
            _run(posture=posture, option=option, run=run, moving=moving) for run in laid.runs
        )
        bands.append(BandGeometry(laid=laid, runs=runs))
    weight = bearing.weight_nm(posture=posture, option=option)
    return Geometry(
        body=body,
        option=option,
        phase_ratios=phase_ratios,
        bands=tuple(bands),
        weight_nm=moments.projected(posture=posture, vectors=weight),
    )


def _run(
    *, posture: kinematics.Posture, option: Option, run: Run, moving: frozenset[str]
) -> RunGeometry:
    by_region = [
        bearing.band_nm(posture=posture, option=option, pulls=region.pulls)
        for region in run.regions
    ]
    whole = moments.of_pulls(posture=posture, pulls=_pulls(run))
    # By virtual work a moment for each newton is a change of length for each radian.
    spread = sum(
        ((vector**2).sum(axis=0) for joint, vector in whole.items() if joint in moving),
        np.zeros(posture.count),
    )
    length_m = run.length_m
    return RunGeometry(
        run=run,
        length_m=length_m,
        moments_nm=tuple(moments.projected(posture=posture, vectors=each) for each in by_region),
        length_sd_m=np.hypot(STATURE_SD_RATIO * length_m, POSE_SD_RAD * np.sqrt(spread)),
    )


def _pulls(run: Run) -> tuple[Pull, ...]:
    return tuple(pull for region in run.regions for pull in region.pulls)


_ANGLE_JOINTS: Mapping[str, str] = {
    "shoulder_flexion": "shoulder",
    "shoulder_abduction": "shoulder",
    "shoulder_rotation": "shoulder",
    "elbow_flexion": "elbow",
    "forearm_supination": "elbow",
    "wrist_flexion": "wrist",
    "hip_flexion": "hip",
    "hip_abduction": "hip",
    "hip_rotation": "hip",
    "knee_flexion": "knee",
    "ankle_dorsiflexion": "ankle",
}


def _moving_joints(*, posture: kinematics.Posture, option: Option) -> frozenset[str]:
    """Return the joints whose angles the option moves: those that a person does inexactly."""
    moving = set()
    for name in angle_rules.named(option):
        joint = _ANGLE_JOINTS.get(joints.plain(name))
        if joint is not None and float(np.ptp(posture.angles_rad[name])) > 1e-6:
            moving.add(f"{joint}{name.removeprefix(joints.plain(name))}")
    return frozenset(moving)
