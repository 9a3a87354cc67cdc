"""A sit-to-stand from the foot forces: what it asks of hips and knees, with or without a band.

Both legs alike, in the plane of going forward and up. The floor's push follows from the motion of
the whole body (Newton and Euler), and each leg bears half of it; segment by segment up from the
foot gives ankle, knee and hip. The sum of hip and knee is nearly the same however the trunk leans,
which the split is not. Before the hips leave the seat the seat bears a part that is not known.
"""

from dataclasses import dataclass

import numpy as np

from halewright.core import units
from halewright.core.catalogue.movement import Option
from halewright.core.mechanics import angles as angle_rules
from halewright.core.mechanics import bearing, gravity, kinematics, moments, spans, tensions
from halewright.core.mechanics.angles import Array
from halewright.core.mechanics.kinematics import Posture
from halewright.core.mechanics.rubber import Curve
from halewright.core.mechanics.skeleton import SEGMENTS, Body
from halewright.core.mechanics.spans import Pull

_FRAMES = 241


@dataclass(frozen=True, slots=True, kw_only=True)
class Rise:
    """The net joint moments of one leg over a rise; extension is positive, in newton metres.

    `seat_off` is the first frame in which the hips have left the seat; `pressure_m` where the
    floor's push passes, counted forward from the heel. `mass_kg` is the body's.
    """

    phase_ratios: Array
    hip_nm: Array
    knee_nm: Array
    ankle_nm: Array
    pressure_m: Array
    seat_off: int
    mass_kg: float

    @property
    def sum_nm_per_kg(self) -> float:
        """Return hip and knee together for one leg as the hips leave the seat, for each kg."""
        return float((self.hip_nm + self.knee_nm)[self.seat_off]) / self.mass_kg


def of(
    *,
    body: Body,
    option: Option,
    rise_s: float | None = None,
    curve: Curve | None = None,
    grip_length_m: float | None = None,
) -> Rise:
    """Return a rise; `rise_s` None is as slow as can be (statics), else it goes at minimum jerk.

    With `curve` and `grip_length_m` the option's band is on. Raises NoBandWay where it cannot be
    laid, BeyondMeasured where it is stretched beyond its readings.
    """
    share = np.linspace(0.0, 1.0, _FRAMES)
    phases = share if rise_s is None else angle_rules.minimum_jerk(share)
    posture = kinematics.posture(body=body, option=option, phase_ratios=phases)
    step_s = None if rise_s is None else rise_s / (_FRAMES - 1)
    pulls = _band_pulls(posture=posture, option=option, curve=curve, grip_length_m=grip_length_m)
    moments_nm, pressure_m = _one_leg(posture=posture, step_s=step_s, pulls=pulls)
    off = np.flatnonzero(bearing.on_the_seat(posture) == 0.0)
    return Rise(
        phase_ratios=phases,
        hip_nm=moments_nm["thigh_left"],
        knee_nm=-moments_nm["shank_left"],
        ankle_nm=moments_nm["foot_left"],
        pressure_m=pressure_m,
        seat_off=int(off[0]) if off.size else 0,
        mass_kg=body.mass_kg,
    )


def _band_pulls(
    *, posture: Posture, option: Option, curve: Curve | None, grip_length_m: float | None
) -> tuple[Pull, ...]:
    """Return the band's forces in newtons."""
    if curve is None or grip_length_m is None:
        return ()
    found = []
    for path in option.paths:
        laid = spans.lay(posture=posture, path=path)
        for run in laid.runs:
            told = tensions.of(run=run, curve=curve, slack_m=laid.slack_m(grip_length_m))
            for region, region_n in zip(run.regions, told.regions_n, strict=True):
                found += [
                    Pull(
                        owner=pull.owner,
                        at_m=pull.at_m,
                        force_ratio=laid.strands * region_n * pull.force_ratio,
                    )
                    for pull in region.pulls
                ]
    return tuple(found)


def _one_leg(
    *, posture: Posture, step_s: float | None, pulls: tuple[Pull, ...]
) -> tuple[dict[str, Array], Array]:
    """Return what muscles turn each leg segment with, about the leftward axis, and the pressure."""
    parts = {name: _inertia(posture=posture, segment=name, step_s=step_s) for name in SEGMENTS}
    force_n = sum((part[1] for part in parts.values()), np.zeros((3, posture.count)))
    turning = sum(
        (_about_y(part[0], part[1]) + part[2] for part in parts.values()), np.zeros(posture.count)
    )
    # (cop × F) about y is -x Fz on the floor, so the push passes where it turns the body alike.
    ahead_m = -turning / force_n[2]
    floor = np.stack([ahead_m, np.zeros(posture.count), np.zeros(posture.count)])
    found: dict[str, Array] = {}
    for segment in ("foot_left", "shank_left", "thigh_left"):
        joint_m = posture.origins_m[segment]
        members = gravity.beyond(segment)
        asked = sum(
            (_about_y(parts[name][0] - joint_m, parts[name][1]) + parts[name][2]
             for name in members),
            np.zeros(posture.count),
        )  # fmt: skip
        asked = asked - _about_y(floor - joint_m, 0.5 * force_n)
        for pull in pulls:
            if pull.owner in members:
                asked = asked - _about_y(pull.at_m - joint_m, pull.force_ratio)
        found[segment] = asked
    heel_m = posture.point_m("heel_left")[0]
    return found, ahead_m - heel_m


def _inertia(*, posture: Posture, segment: str, step_s: float | None) -> tuple[Array, Array, Array]:
    """Return a segment's centre, the force that moves it against gravity, and what turns it."""
    part = posture.body.segment(segment)
    centre_m = posture.located_m(owner=segment, at_m=part.centre_m)
    upward = np.zeros((3, posture.count))
    upward[2] = units.STANDARD_GRAVITY_M_PER_S2
    if step_s is None:
        return centre_m, part.mass_kg * upward, np.zeros(posture.count)
    frame = posture.axes[segment]
    pitch_rad = np.unwrap(np.arctan2(frame[0, 2], frame[2, 2]))
    spin = np.gradient(np.gradient(pitch_rad, step_s), step_s)
    push = np.gradient(np.gradient(centre_m, step_s, axis=1), step_s, axis=1)
    return centre_m, part.mass_kg * (push + upward), part.mass_kg * part.gyration_m[1] ** 2 * spin


def _about_y(arm_m: Array, force_n: Array) -> Array:
    return np.asarray(moments.cross(arm_m, force_n)[1], dtype=np.float64)
