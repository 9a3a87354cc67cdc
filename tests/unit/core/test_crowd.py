import numpy as np
import pytest
from tests.fakes import sample_options as samples

from halewright.core.mechanics import (
    angles,
    crowd,
    gravity,
    joints,
    kinematics,
    moments,
    path,
    skeleton,
)
from halewright.core.people.person import Sex

BODIES = (
    skeleton.REFERENCE_BODY,
    skeleton.body(stature_m=1.80, mass_kg=90.0, sex=Sex.MALE),
    skeleton.body(stature_m=1.50, mass_kg=50.0, sex=Sex.FEMALE),
)
WAY = samples.way("grip_left", "sole_outer_left", "sole_inner_right", "grip_right")


def test_a_crowd_is_everybody_at_once() -> None:
    """Every frame of a mixed crowd equals its own person alone: lengths, moments and weight."""
    phases = np.linspace(0.0, 1.0, 4)
    turned = angles.at_phases(option=samples.ROW, phase_ratios=phases)
    whose = np.repeat(np.arange(3), 4)
    many = crowd.asked(
        crowd=crowd.gathered(bodies=BODIES, whose=whose, names=[node.at for node in WAY.nodes]),
        angles_rad={name: np.tile(values, 3) for name, values in turned.items()},
        path=WAY,
    )

    for person, body in enumerate(BODIES):
        origins_m, axes = kinematics.chain(body=body, angles_rad=turned)
        posture = kinematics.Posture(
            body=body, chair=crowd.NO_CHAIR, phase_ratios=phases, angles_rad=turned,
            origins_m=origins_m, axes=axes,
        )  # fmt: skip
        here = whose == person
        for run, span in zip(many.runs, path.lengths(posture=posture, path=WAY), strict=True):
            assert run.length_m[here] == pytest.approx(span.length_m, abs=1e-12)
        for joint in (f"{name}_{side}" for name in ("shoulder", "knee") for side in joints.SIDES):
            alone = -gravity.moment_nm(posture=posture, segment=moments.JOINTS[joint])
            assert many.weight_nm[joint][:, here] == pytest.approx(alone, abs=1e-10)
        pulls = [pull for region in many.runs[0].regions for pull in region.pulls]
        alone = moments.of_pulls(
            posture=posture,
            pulls=[
                type(pull)(
                    owner=pull.owner,
                    at_m=pull.at_m[:, here],
                    force_ratio=pull.force_ratio[:, here],
                )
                for pull in pulls
            ],
        )
        assert many.band_nm[0]["elbow_left"][:, here] == pytest.approx(alone["elbow_left"])


def test_a_crowd_refuses_what_it_cannot_lay() -> None:
    """Loops, wraps and points that were not gathered are refused in words."""
    people = crowd.gathered(bodies=BODIES, whose=np.zeros(1, dtype=np.intp), names=["grip_left"])
    still = {name: np.zeros(1) for name in joints.NAMES}

    with pytest.raises(path.NoBandWay, match="grip_right"):
        crowd.asked(crowd=people, angles_rad=still, path=samples.way("grip_left", "grip_right"))
    with pytest.raises(path.NoBandWay, match="straight"):
        crowd.asked(crowd=people, angles_rad=still, path=samples.KNEES_APART.paths[0])
