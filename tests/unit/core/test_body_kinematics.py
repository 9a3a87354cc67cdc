import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.fakes import sample_options as samples

from halewright.core.catalogue.movement import Tempo
from halewright.core.catalogue.words import HandSupport, Position
from halewright.core.mechanics import angles, joints, kinematics
from halewright.core.mechanics.skeleton import REFERENCE_BODY as BODY

ARM_M = BODY.length_m("upper_arm") + BODY.length_m("forearm") + BODY.grip_m


def _at_end(**angles_deg: float) -> kinematics.Posture:
    option = samples.option(start={}, end=samples.both(**angles_deg))
    return kinematics.posture(body=BODY, option=option, phase_ratios=1.0)


def _hand(posture: kinematics.Posture, side: str = "left") -> list[float]:
    offset = posture.point_m(f"grip_{side}") - posture.point_m(f"shoulder_{side}")
    return [float(value) for value in offset[:, 0]]


@pytest.mark.parametrize(
    ("turned", "left", "right"),
    [
        # The arm hangs: straight down.
        ({"elbow_flexion": 0.0}, (0, 0, -1), (0, 0, -1)),
        # Flexed a right angle: straight forward.
        ({"shoulder_flexion": 90.0}, (1, 0, 0), (1, 0, 0)),
        # Abducted a right angle: out to each side.
        ({"shoulder_abduction": 90.0}, (0, 1, 0), (0, -1, 0)),
        # Flexed, then abducted in the level plane: opened sideways.
        ({"shoulder_flexion": 90.0, "shoulder_abduction": 90.0}, (0, 1, 0), (0, -1, 0)),
        ({"shoulder_flexion": 180.0}, (0, 0, 1), (0, 0, 1)),
    ],
)
def test_a_straight_arm_points_where_the_names_say(
    turned: dict[str, float], left: tuple[float, ...], right: tuple[float, ...]
) -> None:
    """The grip is one arm's length from the shoulder, in the direction of the angle's name."""
    posture = _at_end(**turned)

    assert _hand(posture, "left") == pytest.approx([ARM_M * part for part in left], abs=1e-9)
    assert _hand(posture, "right") == pytest.approx([ARM_M * part for part in right], abs=1e-9)


def test_external_rotation_opens_the_bent_elbow() -> None:
    """Elbow square, upper arm hanging, turned out 90°: the forearm points out to its own side."""
    posture = _at_end(elbow_flexion=90.0, shoulder_rotation=90.0)
    upper_m, lower_m = BODY.length_m("upper_arm"), BODY.length_m("forearm") + BODY.grip_m

    assert _hand(posture, "left") == pytest.approx([0.0, lower_m, -upper_m], abs=1e-9)
    assert _hand(posture, "right") == pytest.approx([0.0, -lower_m, -upper_m], abs=1e-9)


def test_a_supinated_wrist_flexes_upwards() -> None:
    """Elbow square, palm up, wrist flexed 90°: the hand points up from the wrist."""
    posture = _at_end(elbow_flexion=90.0, forearm_supination=90.0, wrist_flexion=90.0)
    for side in joints.SIDES:
        hand = posture.point_m(f"grip_{side}") - posture.point_m(f"wrist_{side}")
        assert hand[:, 0] == pytest.approx([0.0, 0.0, BODY.grip_m], abs=1e-9)


def test_the_trunk_leans_where_its_names_say() -> None:
    """Flexion leans forward, side bend and rotation go to the left; two joints share each."""
    pelvis_m, middle_m = BODY.length_m("lower_trunk"), BODY.length_m("middle_trunk")
    bent = _trunk(trunk_flexion=60.0)
    assert bent[0, 0] == pytest.approx(middle_m * math.sin(math.radians(30.0)))
    assert bent[2, 0] == pytest.approx(pelvis_m + middle_m * math.cos(math.radians(30.0)))
    assert _trunk(trunk_side_bend=20.0)[1, 0] > 0.0
    assert _trunk(pelvis_tilt=20.0)[0, 0] > 0.0
    assert _trunk(pelvis_list=10.0)[1, 0] > 0.0


def _trunk(**angles_deg: float) -> angles.Array:
    option = samples.option(start={}, end=samples.one(**angles_deg))
    posture = kinematics.posture(body=BODY, option=option, phase_ratios=1.0)
    chest = posture.origins_m["upper_trunk"] - posture.origins_m["lower_trunk"]
    return np.asarray(chest)


def test_turning_left_brings_the_right_shoulder_forward() -> None:
    """Rotation to the left is anticlockwise seen from above."""
    option = samples.option(start={}, end=samples.one(trunk_rotation=30.0))
    posture = kinematics.posture(body=BODY, option=option, phase_ratios=1.0)

    assert posture.point_m("shoulder_right")[0, 0] > posture.point_m("shoulder_left")[0, 0]


def test_a_sitter_has_both_feet_on_the_floor_and_the_seat_under_the_thighs() -> None:
    """Seated with square hips and knees, heels and balls of the feet touch z = 0."""
    posture = kinematics.posture(body=BODY, option=samples.ROTATION, phase_ratios=0.0)

    for name in ("heel_left", "toe_left", "sole_right"):
        assert posture.point_m(name)[2, 0] == pytest.approx(0.0, abs=1e-9)
    below_hip_m = posture.point_m("knee_left")[2, 0] - posture.chair.seat_height_m
    assert below_hip_m == pytest.approx(BODY.thigh_radius_m)


def test_a_seated_sole_never_sinks_through_the_floor() -> None:
    """Pointing the toes of a flat foot lifts the knee instead of piercing the floor."""
    option = samples.option(start={}, end=samples.both(ankle_dorsiflexion=-30))
    posture = kinematics.posture(body=BODY, option=option, phase_ratios=np.linspace(0, 1, 5))

    lowest_m = min(float(posture.point_m(name)[2].min()) for name in ("toe_left", "heel_right"))
    assert lowest_m > -0.002
    assert np.all(np.diff(posture.point_m("knee_left")[2]) > 0.0)


def test_rising_leaves_the_feet_where_they_were() -> None:
    """From seat to standing the soles stay flat on one spot while the hips go up and forward."""
    posture = kinematics.posture(
        body=BODY, option=samples.RISE, phase_ratios=np.linspace(0.0, 1.0, 11)
    )

    for name in ("heel_left", "toe_left", "heel_right", "toe_right"):
        moved = posture.point_m(name) - posture.point_m(name)[:, :1]
        assert np.abs(moved).max() < 1e-9
        assert np.abs(posture.point_m(name)[2]).max() < 1e-9
    hips = posture.origins_m["lower_trunk"]
    # By hand: seated 28° leaning, thigh level by 116 - 28 = 88°, shank 12° forward.
    standing_m = BODY.length_m("thigh") + BODY.hip_height_m
    assert hips[2, -1] == pytest.approx(standing_m, abs=1e-9)
    assert hips[0, -1] > 0.2
    assert hips[2, 0] - posture.chair.seat_height_m == pytest.approx(BODY.thigh_radius_m)


def test_a_heel_raise_turns_about_the_ball_of_the_foot() -> None:
    """Standing on the balls of the feet these stay put; heels and hips rise."""
    posture = kinematics.posture(
        body=BODY, option=samples.HEEL_RAISE, phase_ratios=np.linspace(0.0, 1.0, 5)
    )

    ball = posture.point_m("toe_right")
    assert np.abs(ball - ball[:, :1]).max() < 1e-9
    assert np.all(np.diff(posture.point_m("heel_left")[2]) > 0.01)
    assert np.all(np.diff(posture.origins_m["lower_trunk"][2]) > 0.0)


def test_hands_hold_the_chair_back_when_no_pose_names_the_arms() -> None:
    """A person standing with two hands' support has their grips on the chair's back."""
    posture = kinematics.posture(body=BODY, option=samples.HEEL_RAISE, phase_ratios=0.0)

    grip = posture.point_m("grip_left")[:, 0]
    back_x_m = posture.chair.x_m - posture.chair.rear_m
    assert grip[0] == pytest.approx(back_x_m - 0.05, abs=1e-6)
    assert grip[2] == pytest.approx(posture.chair.back_top_m + 0.02, abs=1e-6)


def test_frames_are_the_same_alone_and_together() -> None:
    """A posture at many phases equals the postures at each phase."""
    phases = np.array([0.0, 0.3, 1.0])
    together = kinematics.posture(body=BODY, option=samples.ROW, phase_ratios=phases)

    for k, phase in enumerate(phases):
        alone = kinematics.posture(body=BODY, option=samples.ROW, phase_ratios=float(phase))
        for name, point in alone.points_m().items():
            assert together.point_m(name)[:, k] == pytest.approx(point[:, 0], abs=1e-3)


_ANGLES = st.dictionaries(
    st.sampled_from(joints.NAMES), st.floats(-0.6, 0.6, allow_nan=False), max_size=12
)


@settings(deadline=None, max_examples=60)
@given(angles_rad=_ANGLES, position=st.sampled_from([Position.SEATED, Position.RISING]))
def test_a_mirrored_pose_is_the_mirror_image(
    angles_rad: dict[str, float], position: Position
) -> None:
    """Mirroring the angles mirrors every point left to right, at any pose and position."""
    option = samples.option(start=angles_rad, end=angles_rad, position=position)
    plain = kinematics.posture(body=BODY, option=option, phase_ratios=1.0)
    image = kinematics.posture(body=BODY, option=angles.mirrored(option), phase_ratios=1.0)

    for name, point in plain.points_m().items():
        other = image.point_m(joints.other_side(name))[:, 0]
        assert other == pytest.approx([point[0, 0], -point[1, 0], point[2, 0]], abs=1e-6)


@given(angles_rad=_ANGLES)
def test_mirroring_twice_changes_nothing(angles_rad: dict[str, float]) -> None:
    """The mirror image of the mirror image is the pose itself."""
    assert joints.mirror(joints.mirror(angles_rad)) == angles_rad


def test_the_phase_runs_out_holds_and_comes_back() -> None:
    """Two seconds out, one held, two back: half way out at 1 s, held at 2.5 s, home at 5 s."""
    tempo = Tempo(out_s=2.0, hold_s=1.0, back_s=2.0)
    found = angles.phase_at(tempo=tempo, times_s=np.array([0.0, 1.0, 2.0, 2.5, 4.0, 4.999]))

    assert found == pytest.approx([0.0, 0.5, 1.0, 1.0, 0.5, 0.0], abs=1e-6)


def test_a_standing_person_never_jumps_from_foot_to_foot() -> None:
    """Stepping the right foot ahead, the left stays put and the hips move without a jump."""
    option = samples.option(
        start={},
        end=samples.one(hip_flexion_right=16, knee_flexion_right=12, hip_flexion_left=-10),
        position=Position.SUPPORTED_STANDING,
    )
    posture = kinematics.posture(body=BODY, option=option, phase_ratios=np.linspace(0, 1, 41))

    standing = posture.point_m("toe_left")
    assert np.abs(standing - standing[:, :1])[:2].max() < 1e-9
    steps_m = np.abs(np.diff(posture.origins_m["lower_trunk"], axis=1))
    assert steps_m.max() < 0.01


def test_a_chair_has_arms_where_the_hands_help_a_rise() -> None:
    """Rising with two hands' support needs arms to push on; rising without hands does not."""
    helped = replace(samples.RISE, support=HandSupport.TWO_HANDS)

    assert kinematics.posture(body=BODY, option=helped, phase_ratios=0.0).chair.has_arms
    assert not kinematics.posture(body=BODY, option=samples.RISE, phase_ratios=0.0).chair.has_arms
