import math
from dataclasses import replace

import pytest
from tests.fakes import sample_options as samples

from halewright.core.catalogue import words
from halewright.core.catalogue.movement import Declared
from halewright.core.mechanics import demand_rules
from halewright.core.people.limits import Measure


def test_angles_are_told_from_the_poses() -> None:
    """The row bends elbows to 98°, takes shoulders 34° back and keeps hips at 72° or a bit more."""
    found = demand_rules.of(option=samples.ROW, power=False)

    assert found.left[Measure.ELBOW_FLEXION] == pytest.approx(math.radians(98))
    assert found.right[Measure.SHOULDER_EXTENSION] == pytest.approx(math.radians(34))
    assert math.radians(71) < found.most(Measure.HIP_FLEXION) < math.radians(85)
    assert not found.load_known


def test_elevation_is_the_upper_arms_angle_from_the_trunk() -> None:
    """Arms out to 100° sideways with the trunk leaning: elevation 100°, so overhead."""
    option = samples.option(
        start={}, end=samples.both(shoulder_abduction=100) | samples.one(trunk_flexion=20)
    )
    found = demand_rules.of(option=option, power=False)

    assert found.left[Measure.SHOULDER_ELEVATION] == pytest.approx(math.radians(100))
    assert found.most(Measure.ARMS_OVERHEAD) == 1.0
    assert found.most(Measure.TRUNK_FLEXION) == pytest.approx(math.radians(20))


def test_a_back_bend_is_loaded_only_where_a_band_pulls_the_hands_or_the_body_rises() -> None:
    """The same bend counts as loaded with a band in the hands, and not without one."""
    bent = samples.one(trunk_flexion=25, trunk_rotation=-15)
    free = samples.option(start={}, end=bent)
    held = replace(free, paths=(samples.way("grip_left", "grip_right"),))

    assert demand_rules.of(option=free, power=False).most(Measure.TRUNK_FLEXION_LOADED) == 0.0
    loaded = demand_rules.of(option=held, power=False)
    assert loaded.most(Measure.TRUNK_FLEXION_LOADED) == pytest.approx(math.radians(25))
    assert loaded.most(Measure.TRUNK_ROTATION_LOADED) == pytest.approx(math.radians(15))


def test_turns_ask_the_same_of_both_sides() -> None:
    """A one-sided curl done each side demands the right arm's bend of the left arm too."""
    found = demand_rules.of(option=samples.CURL_RIGHT, power=False)

    assert found.left[Measure.ELBOW_FLEXION] == found.right[Measure.ELBOW_FLEXION]
    together = replace(samples.CURL_RIGHT, sides=words.Sides.BOTH)
    assert demand_rules.of(option=together, power=False).left.get(Measure.ELBOW_FLEXION, 0) == 0


def test_a_curl_from_the_foot_pulls_towards_the_face_and_a_row_does_not() -> None:
    """Hands that rise from a band underfoot to the shoulders fly at the face; low rows do not."""
    curl = demand_rules.of(option=samples.CURL_RIGHT, power=False)
    row = demand_rules.of(option=samples.ROW, power=False)

    assert curl.most(Measure.PULL_TOWARDS_FACE) == 1.0
    assert row.most(Measure.PULL_TOWARDS_FACE) == 0.0
    assert curl.most(Measure.FOOT_ANCHOR) == row.most(Measure.FOOT_ANCHOR) == 1.0


def test_rises_are_counted_over_a_work_interval() -> None:
    """Five seconds a rep make eight rises in forty seconds, four in twenty."""
    forty = demand_rules.of(option=samples.RISE, power=False)
    twenty = demand_rules.of(option=samples.RISE, power=False, work_s=20.0)

    assert forty.most(Measure.RISES) == 8.0
    assert twenty.most(Measure.RISES) == 4.0
    assert forty.most(Measure.STANDING) == 4.0
    assert forty.most(Measure.KNEE_LOAD) == 2.0


def test_standing_counts_how_little_the_hands_hold() -> None:
    """Two hands held is the least standing; hands free the most; seated is none."""
    expected = {"two_hands": 1.0, "one_hand": 2.0, "fingertips": 3.0, "none": 4.0}
    for support, count in expected.items():
        option = replace(samples.HEEL_RAISE, support=words.HandSupport(support))
        assert demand_rules.of(option=option, power=False).most(Measure.STANDING) == count
    assert demand_rules.of(option=samples.ROW, power=False).most(Measure.STANDING) == 0.0


def test_a_loop_lies_on_the_limbs_and_legs_crossing_the_midline_are_told() -> None:
    """A loop round the thighs is a band on skin; adduction counts only past the midline."""
    loop = demand_rules.of(option=samples.KNEES_APART, power=True)
    crossing = samples.option(start={}, end=samples.one(hip_abduction_right=-12))

    assert loop.most(Measure.BAND_ON_SKIN) == loop.most(Measure.POWER) == 1.0
    assert loop.most(Measure.HIP_ADDUCTION) == 0.0
    found = demand_rules.of(option=crossing, power=False)
    assert found.right[Measure.HIP_ADDUCTION] == pytest.approx(math.radians(12))
    assert Measure.HIP_ADDUCTION not in found.left


def test_what_angles_cannot_tell_is_taken_from_the_file() -> None:
    """Grip, breath, balance and steps come through as declared."""
    told = Declared(grip_score=2, breath_hold_score=1, balance_score=3, steps_to_remember_count=4)
    found = demand_rules.of(option=replace(samples.ROW, declared=told), power=False)

    assert found.most(Measure.GRIP) == 2.0
    assert found.most(Measure.BREATH_HOLD) == 1.0
    assert found.most(Measure.BALANCE) == 3.0
    assert found.most(Measure.STEPS_TO_REMEMBER) == 4.0


def test_a_band_tied_at_the_ankle_lies_on_a_limb() -> None:
    """From the chair's rear leg to the ankle: nothing wraps in the path, yet the skin is loaded."""
    option = samples.option(
        start={},
        end=samples.one(knee_flexion_right=20),
        paths=(samples.way("chair_rear_leg_right", "ankle_right"),),
        set_up=words.SetUp.CHAIR,
    )

    assert demand_rules.of(option=option, power=False).most(Measure.BAND_ON_SKIN) == 1.0
    row = demand_rules.of(option=samples.ROW, power=False)
    assert row.most(Measure.BAND_ON_SKIN) == 0.0
