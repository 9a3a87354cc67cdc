import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
from tests.fakes import sample_options as samples

from halewright.core.catalogue.movement import BandPath, MovementId, NodeKind, PathNode
from halewright.core.mechanics import (
    angles,
    geometry,
    joints,
    kinematics,
    loads,
    moments,
    path,
    points,
    rising,
    rubber,
    skeleton,
    spans,
)
from halewright.core.mechanics.loads import Code, Load, NoLoad
from halewright.core.mechanics.skeleton import REFERENCE_BODY as BODY
from halewright.files import movements

# A made-up band that pulls 4 · 1.75 + 8 · 0.875 = 14 N at twice its slack length.
CURVE = rubber.Curve(linear_n=4.0, softening_n=8.0, stiffening_n=0.0, most_ratio=3.0)
LAW = rubber.Estimate(curve=CURVE, draws_n=np.array([[4.0, 8.0, 0.0]]))
BETWEEN_HANDS = samples.option(
    start=samples.both(shoulder_flexion=90),
    end=samples.both(shoulder_flexion=90, shoulder_abduction=40),
    paths=(samples.way("grip_left", "grip_right"),),
)
LEGS = ("thigh", "shank", "foot")
ARM_M = BODY.length_m("upper_arm") + BODY.length_m("forearm") + BODY.grip_m


def _load(option: object = BETWEEN_HANDS, **how: object) -> Load:
    found = loads.of(body=BODY, option=option, law=LAW, **how)  # type: ignore[arg-type]
    assert isinstance(found, Load)
    return found


def test_tension_by_hand() -> None:
    """Gripped at half the greatest distance of the hands the band is doubled: 14 N at the end."""
    apart_m = 2.0 * (BODY.half_shoulder_m + ARM_M * math.sin(math.radians(40.0)))

    found = _load(grip_length_m=apart_m / 2.0)

    assert found.tension_peak_n == pytest.approx(14.0)
    assert found.stretch_end_ratio == pytest.approx(2.0)
    assert found.peak_phase_ratio == 1.0
    assert found.stretch_start_ratio == pytest.approx(4.0 * BODY.half_shoulder_m / apart_m)


def test_a_joint_moment_by_hand() -> None:
    """Arms level and 40° open, 14 N straight across: each shoulder bears 14 N · arm · cos 40°."""
    apart_m = 2.0 * (BODY.half_shoulder_m + ARM_M * math.sin(math.radians(40.0)))

    found = _load(grip_length_m=apart_m / 2.0)

    by_hand_nm = 14.0 * ARM_M * math.cos(math.radians(40.0))
    for side in joints.SIDES:
        joint = found.joints[f"shoulder_horizontal_abduction_{side}"]
        assert joint.band_nm[-1] == pytest.approx(by_hand_nm)
        # A level arm's weight turns about level axes, so none of it is about the upright one.
        assert joint.weight_nm[-1] == pytest.approx(0.0, abs=1e-9)


def test_the_grip_for_a_tension_gives_that_tension() -> None:
    """The grip length found for 12 N pulls 12 N at its peak, with and without friction."""
    rough = BandPath(
        nodes=(
            PathNode(kind=NodeKind.CLAMP, at="grip_left"),
            PathNode(kind=NodeKind.SLIDE, at="upper_back_left", friction_ratio=0.3),
            PathNode(kind=NodeKind.SLIDE, at="upper_back_right", friction_ratio=0.3),
            PathNode(kind=NodeKind.CLAMP, at="grip_right"),
        )
    )
    for option in (BETWEEN_HANDS, replace(BETWEEN_HANDS, paths=(rough,)), samples.ROW):
        found = _load(option, target_tension_n=12.0)
        assert found.tension_peak_n == pytest.approx(12.0, abs=1e-6)
        again = _load(option, grip_length_m=found.grip_length_m)
        assert again.tension_peak_n == pytest.approx(12.0, abs=1e-6)


def test_a_share_of_last_time_is_a_tension() -> None:
    """Nine tenths of 10 N is 9 N."""
    share = loads.ShareOf(share_ratio=0.9, tension_n=10.0)

    assert _load(target_share_of=share).tension_peak_n == pytest.approx(9.0)


def test_a_shorter_grip_pulls_more() -> None:
    """Tension rises with every centimetre that the grip is shortened."""
    shape = geometry.of(body=BODY, option=BETWEEN_HANDS)
    peaks = []
    for grip_m in np.linspace(1.1, 0.5, 13):
        found = loads.given(geometry=shape, law=LAW, grip_length_m=float(grip_m))
        assert isinstance(found, Load)
        peaks.append(found.tension_peak_n)

    assert all(a < b for a, b in itertools.pairwise(peaks))


def test_what_cannot_be_is_said_in_codes() -> None:
    """Slack at the start, too far a stretch, light, no such tension, no band: a code each."""
    slack = _load(grip_length_m=0.8)
    far = loads.of(body=BODY, option=BETWEEN_HANDS, law=LAW, grip_length_m=0.3)
    light = _load(target_tension_n=6.0)
    never = loads.of(body=BODY, option=BETWEEN_HANDS, law=LAW, target_tension_n=99.0)
    bare = loads.of(body=BODY, option=replace(BETWEEN_HANDS, paths=()), law=LAW, grip_length_m=1.0)

    assert Code.SLACK_AT_START in slack.codes
    assert slack.tension_n[0] == 0.0
    assert isinstance(far, Load)
    assert {Code.OVER_STRETCH, Code.BEYOND_MEASURED} <= set(far.codes)
    assert far.tension_peak_n is None
    assert Code.LIGHT in light.codes
    assert isinstance(never, NoLoad)
    assert never.most_n == pytest.approx(CURVE.most_n)
    assert isinstance(bare, NoLoad)
    assert bare.codes == (Code.NO_BAND,)


def test_work_is_the_area_under_the_tension() -> None:
    """∫ T dL of one run between the hands, by the trapezoid on the same frames."""
    found = _load(grip_length_m=0.6)
    by_hand_j = float(np.trapezoid(found.tension_n, found.length_m))

    assert found.work_j == pytest.approx(by_hand_j)


def test_a_folded_band_pulls_twice() -> None:
    """Two strands of the same slack length pull twice as hard and need twice the band."""
    one = _load(grip_length_m=0.7)
    two = loads.of(body=BODY, option=BETWEEN_HANDS, law=LAW, grip_length_m=0.7, strands=2)

    assert isinstance(two, Load)
    assert one.tension_peak_n is not None
    assert two.tension_peak_n == pytest.approx(2.0 * one.tension_peak_n)
    assert two.used_m == pytest.approx(2.0 * one.used_m)


def test_the_pinned_breadth_of_the_shoes_is_no_working_length() -> None:
    """Hand, foot, foot, hand: both soles' 9 cm and the band between the feet do not stretch."""
    nodes = ("grip_left", "sole_left", "sole_right", "grip_right")
    option = replace(samples.ROW, paths=(samples.way(*nodes),))
    laid = geometry.of(body=BODY, option=option).bands[0].laid

    assert len(laid.runs) == 2
    assert laid.pinned_m == pytest.approx(0.18)
    assert laid.slack_m(1.0) == pytest.approx((1.0 - 0.18 - laid.flat_m) / 2.0)
    assert laid.used_m(1.0, hand_wrap_m=0.1) == pytest.approx(1.2)


def test_each_thigh_in_a_loop_feels_twice_the_tension() -> None:
    """A loop pulling T presses each thigh with 2T: abduction moment 2T · lever at the hip."""
    found = _load(samples.KNEES_APART, grip_length_m=0.5)
    lever_m = BODY.length_m("thigh") - 0.09
    assert found.tension_peak_n is not None

    by_hand_nm = 2.0 * found.tension_peak_n * lever_m * math.cos(math.radians(24.0))
    assert found.joints["hip_abduction_left"].band_nm[-1] == pytest.approx(by_hand_nm, rel=1e-6)
    assert found.closed


def test_left_and_right_are_alike() -> None:
    """A mirrored option gives the other side the same moments, axis by axis."""
    plain = _load(samples.CURL_RIGHT, target_tension_n=12.0)
    image = _load(angles.mirrored(samples.CURL_RIGHT), target_tension_n=12.0)

    turned = {"trunk_side_bend", "trunk_rotation"}
    for axis, joint in plain.joints.items():
        sign = -1.0 if axis in turned else 1.0
        other = image.joints[joints.other_side(axis)]
        assert other.band_nm == pytest.approx(sign * joint.band_nm, abs=1e-6)
        assert other.weight_nm == pytest.approx(sign * joint.weight_nm, abs=1e-6)


def test_every_axis_has_its_own_name() -> None:
    """No two axes of the body share a name, and every load tells them all."""
    assert len(set(moments.AXES)) == len(moments.AXES)
    assert set(_load(grip_length_m=0.7).joints) == set(moments.AXES)


def test_a_belt_round_unequal_limbs_pulls_along_the_line_of_centres() -> None:
    """Finite differences: the force on each limb is the belt's slope, 2 cos α with sin α = δ/d."""
    nodes = ("thigh_low_left", "shank_left")
    option = replace(samples.KNEES_APART, paths=(samples.way(*nodes, closed=True, wraps=nodes),))
    posture = kinematics.posture(body=BODY, option=option, phase_ratios=0.5)
    (run,) = spans.lay(posture=posture, path=option.paths[0]).runs
    places = points.places(body=BODY, chair=posture.chair)
    radii_m = [places[name].radius_m or 0.0 for name in nodes]
    first, second = run.regions[0].pulls
    apart_m = np.linalg.norm(second.at_m - first.at_m, axis=0)

    def belt_m(step_m: float) -> np.ndarray:
        return path.belt_m(
            distance_m=apart_m + step_m, first_radius_m=radii_m[0], second_radius_m=radii_m[1]
        )

    slope = (belt_m(1e-6) - belt_m(-1e-6)) / 2e-6
    assert radii_m[0] != radii_m[1]
    assert np.linalg.norm(first.force_ratio, axis=0) == pytest.approx(slope, abs=1e-8)
    assert first.force_ratio == pytest.approx(-second.force_ratio)
    assert run.length_m == pytest.approx(belt_m(0.0))


def test_a_rise_against_a_band_is_the_same_from_the_joints_and_from_the_feet() -> None:
    """Hip and knee together, off the seat: `loads` and `rising` take different ways to one sum."""
    option = movements.shipped()[MovementId("sit-to-stand-band")].standard
    found = loads.of(body=BODY, option=option, law=LAW, grip_length_m=1.2)
    assert isinstance(found, Load)
    rise = rising.of(body=BODY, option=option, curve=CURVE, grip_length_m=1.2)

    from_joints = (
        -found.joints["hip_flexion_left"].net_nm - found.joints["knee_flexion_left"].net_nm
    )
    from_feet = np.interp(found.phase_ratios, rise.phase_ratios, rise.hip_nm + rise.knee_nm)
    off_seat = found.phase_ratios > 0.1
    assert from_joints[off_seat] == pytest.approx(from_feet[off_seat], abs=0.1)


def test_a_weight_that_seat_and_floor_bear_asks_nothing_of_knees() -> None:
    """Sitting tall, knees and ankles rest; one leg stretched out holds shank and foot at its knee.

    By hand: their weight at their common centre, a level shank's distance from the knee.
    """
    legs = samples.one(knee_flexion_right=0.0, ankle_dorsiflexion_right=0.0)
    option = samples.option(start={}, end=legs)
    shape = geometry.of(body=BODY, option=option)
    shank, foot = BODY.segment("shank_right"), BODY.segment("foot_right")
    by_hand_nm = 9.80665 * (
        shank.mass_kg * -shank.centre_m[2] + foot.mass_kg * (shank.length_m - foot.centre_m[2])
    )

    assert shape.weight_nm["knee_flexion_right"][0] == 0.0
    assert shape.weight_nm["knee_flexion_left"] == pytest.approx(np.zeros(61), abs=1e-9)
    assert shape.weight_nm["knee_flexion_right"][-1] == pytest.approx(-by_hand_nm, rel=1e-6)


def test_a_lean_is_held_at_the_hips() -> None:
    """Leaning 30° from the hips, each hip stretches against half the upper body's weight moment."""
    option = samples.option(
        start=samples.both(shoulder_flexion=0),
        end=samples.both(hip_flexion=120, shoulder_flexion=0) | samples.one(pelvis_tilt=30),
    )
    posture = kinematics.posture(body=BODY, option=option, phase_ratios=1.0)
    upper = [name for name in skeleton.SEGMENTS if name.split("_")[0] not in LEGS]
    ahead_nm = sum(
        9.80665
        * BODY.segment(name).mass_kg
        * posture.located_m(owner=name, at_m=BODY.segment(name).centre_m)[0, 0]
        for name in upper
    )

    shape = geometry.of(body=BODY, option=option)

    for side in joints.SIDES:
        told_nm = shape.weight_nm[f"hip_flexion_{side}"][-1]
        assert told_nm == pytest.approx(-0.5 * ahead_nm, rel=1e-6)
