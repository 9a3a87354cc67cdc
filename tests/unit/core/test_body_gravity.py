import numpy as np
import pytest
from tests.fakes import sample_options as samples

from halewright.core import units
from halewright.core.mechanics import gravity, kinematics, skeleton
from halewright.core.people.person import Sex

MAN = skeleton.body(stature_m=1.741, mass_kg=73.0, sex=Sex.MALE)


def _arm_forward() -> kinematics.Posture:
    option = samples.option(start={}, end=samples.both(shoulder_flexion=90))
    return kinematics.posture(body=MAN, option=option, phase_ratios=1.0)


def test_a_straight_arm_held_level_asks_the_published_moment() -> None:
    """10.553 Nm for de Leva's man of 1.741 m and 73.0 kg (computed on the facts page).

    By hand: upper arm 1.9783 kg at 0.1626 m, forearm 1.1826 kg at 0.2817 + 0.1230 m, hand
    0.4453 kg at 0.5506 + 0.0681 m, together 1.0758 kg·m; the page took 9.81 m/s².
    """
    found_nm = gravity.moment_nm(posture=_arm_forward(), segment="upper_arm_left")

    at_page_gravity_nm = found_nm[1, 0] * 9.81 / units.STANDARD_GRAVITY_M_PER_S2
    assert at_page_gravity_nm == pytest.approx(10.553, abs=0.0006)
    assert found_nm[0, 0] == pytest.approx(0.0, abs=1e-9)


def test_a_hanging_arm_asks_nothing() -> None:
    """With the arm straight down its weight passes through the shoulder."""
    option = samples.option(start=samples.both(elbow_flexion=0), end=samples.both(elbow_flexion=1))
    posture = kinematics.posture(body=MAN, option=option, phase_ratios=0.0)

    moment_nm = gravity.moment_nm(posture=posture, segment="upper_arm_right")

    assert np.abs(moment_nm).max() < 1e-9


def test_an_arm_is_three_segments_and_the_root_holds_all() -> None:
    """What hangs from the upper arm is forearm and hand; from the lower trunk, the whole body."""
    assert gravity.beyond("upper_arm_left") == (
        "upper_arm_left",
        "forearm_left",
        "hand_left",
    )
    assert len(gravity.beyond("lower_trunk")) == 16
    with pytest.raises(KeyError):
        gravity.beyond("tail")


def test_the_centre_of_a_symmetric_posture_is_in_the_middle() -> None:
    """Both sides alike: the whole body's centre has no sideways part."""
    centre = gravity.centre_m(posture=_arm_forward(), segments=skeleton.SEGMENTS)

    assert centre[1, 0] == pytest.approx(0.0, abs=1e-12)
