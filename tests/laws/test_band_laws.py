"""Laws of a band on a body that hold for every shipped movement."""

import itertools

import numpy as np
import pytest

from halewright.core.catalogue.movement import Option
from halewright.core.mechanics import (
    angles,
    geometry,
    joints,
    kinematics,
    loads,
    moments,
    rubber,
    spans,
)
from halewright.core.mechanics.loads import Load
from halewright.core.mechanics.skeleton import REFERENCE_BODY as BODY
from halewright.files import movements

OPTIONS = {
    movement.id: movement.standard
    for movement in movements.shipped().values()
    if movement.standard.paths
}
EACH = pytest.mark.parametrize("option", OPTIONS.values(), ids=OPTIONS.keys())
LAW = rubber.Estimate(
    curve=rubber.Curve(linear_n=9.0, softening_n=9.0, stiffening_n=0.2, most_ratio=3.0),
    draws_n=np.array([[9.0, 9.0, 0.2]]),
)


@EACH
def test_a_bands_forces_do_its_work(option: Option) -> None:
    """Virtual work: Σ force · way of its point = - change of length, to a thousandth, by steps."""
    phases = np.linspace(0.0, 1.0, 2_001)
    posture = kinematics.posture(body=BODY, option=option, phase_ratios=phases)
    for run in spans.lay(posture=posture, path=option.paths[0]).runs:
        done = np.zeros(phases.size - 1)
        for region in run.regions:
            for pull in region.pulls:
                force = 0.5 * (pull.force_ratio[:, 1:] + pull.force_ratio[:, :-1])
                done += (force * np.diff(pull.at_m, axis=1)).sum(axis=0)
        gained_m = np.diff(run.length_m)
        assert np.abs(done + gained_m).max() < 1e-3 * np.abs(gained_m).max() + 1e-9


@EACH
def test_moments_are_levers(option: Option) -> None:
    """Finite differences: bending an elbow by 1e-6 rad changes the length as its moment says."""
    phases = np.array([0.1, 0.5, 0.9])
    posture = kinematics.posture(body=BODY, option=option, phase_ratios=phases)
    for side in joints.SIDES:
        name, joint = f"elbow_flexion_{side}", f"elbow_{side}"
        (axis, _) = moments.axes(posture=posture, joint=joint)
        laid = spans.lay(posture=posture, path=option.paths[0])
        pulls = [pull for run in laid.runs for region in run.regions for pull in region.pulls]
        told = moments.of_pulls(posture=posture, pulls=pulls).get(joint, np.zeros((3, 3)))
        ends = [
            sum(
                run.length_m
                for run in spans.lay(
                    posture=_bent(posture=posture, name=name, by_rad=step), path=option.paths[0]
                ).runs
            )
            for step in (1e-6, -1e-6)
        ]
        slope_m = (ends[0] - ends[1]) / 2e-6
        assert (axis * told).sum(axis=0) == pytest.approx(slope_m, abs=1e-7)


def _bent(*, posture: kinematics.Posture, name: str, by_rad: float) -> kinematics.Posture:
    turned = dict(posture.angles_rad) | {name: posture.angles_rad[name] + by_rad}
    origins_m, axes = kinematics.chain(body=BODY, angles_rad=turned)
    root_m = posture.origins_m["lower_trunk"]
    return kinematics.Posture(
        body=BODY,
        chair=posture.chair,
        phase_ratios=posture.phase_ratios,
        angles_rad=turned,
        origins_m={segment: at_m + root_m for segment, at_m in origins_m.items()},
        axes=axes,
    )


@EACH
def test_the_mirror_image_is_loaded_alike(option: Option) -> None:
    """Exchanging the sides exchanges the moments and changes no tension."""
    plain = loads.of(body=BODY, option=option, law=LAW, target_tension_n=20.0)
    image = loads.of(body=BODY, option=angles.mirrored(option), law=LAW, target_tension_n=20.0)

    assert isinstance(plain, Load)
    assert isinstance(image, Load)
    assert image.tension_n == pytest.approx(plain.tension_n, abs=1e-3)
    for axis, joint in plain.joints.items():
        sign = -1.0 if axis in ("trunk_side_bend", "trunk_rotation") else 1.0
        other = image.joints[joints.other_side(axis)]
        assert other.band_nm == pytest.approx(sign * joint.band_nm, abs=0.02)


@EACH
def test_a_shorter_grip_never_pulls_less(option: Option) -> None:
    """At every phase the tension grows as the grip is shortened."""
    shape = geometry.of(body=BODY, option=option, frames=21)
    laid = shape.bands[0].laid
    longest_m = shape.bands[0].longest_m
    told = []
    for stretch in (1.1, 1.3, 1.5, 1.7):
        grip_m = laid.grip_length_m(longest_m / stretch)
        found = loads.given(geometry=shape, law=LAW, grip_length_m=grip_m)
        assert isinstance(found, Load)
        told.append(found.tension_n)
    for looser, tighter in itertools.pairwise(told):
        assert np.all(tighter >= looser - 1e-9)
        assert tighter.max() > looser.max()


@EACH
def test_tension_stays_between_the_bounds_of_friction(option: Option) -> None:
    """With friction the tightest part pulls at least as hard as an even band, at most e^Σμθ."""
    shape = geometry.of(body=BODY, option=option, frames=21)
    for run in shape.bands[0].runs:
        slack_m = shape.bands[0].longest_m / 1.6
        found = loads.tensions.of(run=run.run, curve=LAW.curve, slack_m=slack_m)
        most = np.exp(sum(run.run.friction, np.zeros(21)))
        assert np.all(found.most_n >= found.even_n - 1e-9)
        assert np.all(found.most_n <= found.even_n * most + 1e-9)
        lengths_m = sum(
            region.length_m / rubber.stretches(LAW.curve, tensions_n=region_n)
            for region, region_n in zip(run.run.regions, found.regions_n, strict=True)
        )
        taut = found.most_n > 0.0
        assert np.asarray(lengths_m)[taut] == pytest.approx(slack_m, rel=1e-6)
