import numpy as np
from tests.fakes import sample_options as samples

from halewright.core.mechanics import angles, joints, kinematics, loads, rubber, what_if
from halewright.core.mechanics.loads import Load
from halewright.core.mechanics.skeleton import REFERENCE_BODY as BODY

LAW = rubber.Estimate(
    curve=rubber.Curve(linear_n=9.0, softening_n=9.0, stiffening_n=0.2, most_ratio=3.0),
    draws_n=np.array([[9.0, 9.0, 0.2]]),
)


def _peaks() -> dict[str, float]:
    start = loads.of(body=BODY, option=samples.ROW, law=LAW, target_tension_n=20.0)
    assert isinstance(start, Load)
    rows = what_if.table(body=BODY, option=samples.ROW, law=LAW, grip_length_m=start.grip_length_m)
    told = {}
    for row in rows:
        assert isinstance(row.load, Load)
        assert row.load.tension_peak_n is not None
        told[row.words] = row.load.tension_peak_n
    return told


def test_shorter_grips_and_taller_people_pull_more() -> None:
    """Against 20 N as it is: 3 cm shorter and 10 cm taller pull more, the opposite less."""
    peaks = _peaks()

    assert abs(peaks["as it is"] - 20.0) < 1e-6
    assert peaks["gripped 3 cm shorter"] > 20.5
    assert peaks["gripped 3 cm longer"] < 19.5
    assert peaks["a person 10 cm taller"] > 20.5
    assert peaks["a person 10 cm shorter"] < 19.5
    assert "a chair 5 cm higher" in peaks


def test_a_higher_chair_raises_the_hips_and_leaves_the_feet() -> None:
    """5 cm of chair: hips 5 cm higher, soles where they were to within 5 mm."""
    low = kinematics.posture(body=BODY, option=samples.ROTATION, phase_ratios=0.0)
    high = kinematics.posture(
        body=BODY, option=samples.ROTATION, phase_ratios=0.0, seat_rise_m=0.05
    )

    rise_m = high.origins_m["lower_trunk"][2, 0] - low.origins_m["lower_trunk"][2, 0]
    assert abs(rise_m - 0.05) < 1e-12
    assert high.chair.seat_height_m - low.chair.seat_height_m > 0.049
    for name in ("heel_left", "toe_right"):
        assert abs(high.point_m(name)[2, 0]) < 0.005


def test_a_joint_that_goes_less_far_shortens_the_pull() -> None:
    """A curl whose elbow bends no more than 60° starts alike and ends looser at the same grip."""
    start = loads.of(body=BODY, option=samples.CURL_RIGHT, law=LAW, target_tension_n=20.0)
    assert isinstance(start, Load)
    held = angles.within(
        samples.CURL_RIGHT,
        ranges_rad={f"elbow_flexion_{side}": (0.0, 1.0472) for side in joints.SIDES},
    )

    found = loads.of(body=BODY, option=held, law=LAW, grip_length_m=start.grip_length_m)

    assert isinstance(found, Load)
    assert found.tension_start_n is not None
    assert found.tension_peak_n is not None
    assert found.tension_start_n == start.tension_start_n
    assert found.tension_peak_n < 19.0
    assert max(pose.angles_rad["elbow_flexion_right"] for pose in held.poses) == 1.0472
