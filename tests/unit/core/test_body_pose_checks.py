from dataclasses import replace

import pytest
from tests.fakes import sample_options as samples

from halewright.core.catalogue import movement as values
from halewright.core.catalogue import words
from halewright.core.mechanics import pose_checks

LOOP = samples.KNEES_APART.paths
SOUND = [samples.ROW, samples.ROTATION, samples.KNEES_APART, samples.HEEL_RAISE, samples.RISE]


def _read(movement: values.Movement) -> str:
    return "\n".join(problem.sentence() for problem in pose_checks.check(movement))


@pytest.mark.parametrize("option", SOUND)
def test_sound_movements_have_no_problem(option: values.Option) -> None:
    """The five samples pass every check."""
    assert _read(samples.movement(option)) == ""


def _with(option: values.Option, **changes: object) -> values.Movement:
    return samples.movement(replace(option, **changes))  # type: ignore[arg-type]


UNSOUND = {
    "elbow_bend": _with(
        samples.ROW, poses=(values.Pose(phase_ratio=0, angles_rad={"elbow_bend": 1}),)
    ),
    "moon": _with(samples.ROTATION, paths=(samples.way("grip_left", "moon"),)),
    "wrap at grip_left": _with(
        samples.ROTATION, paths=(samples.way("grip_left", "grip_right", wraps=("grip_left",)),)
    ),
    "phases": _with(samples.ROW, poses=samples.ROW.poses[:1]),
    "elbow_flexion_left 170°": samples.movement(
        samples.option(start={}, end=samples.both(elbow_flexion=170))
    ),
    "foot below the floor": samples.movement(
        samples.option(start={}, end=samples.both(hip_flexion=50, knee_flexion=60))
    ),
    "round_thighs while supported_standing": _with(
        samples.HEEL_RAISE, set_up=words.SetUp.ROUND_THIGHS, paths=LOOP
    ),
    "under_feet while rising": _with(
        samples.RISE,
        set_up=words.SetUp.UNDER_FEET,
        paths=(samples.way("sole_left", "grip_left"),),
    ),
    "band on the chair while supported_standing": _with(
        samples.HEEL_RAISE,
        set_up=words.SetUp.CHAIR,
        paths=(samples.way("chair_leg_left", "ankle_left"),),
    ),
    "with 0 band ways": _with(samples.ROW, paths=()),
    "closed loop clamped": _with(
        samples.KNEES_APART,
        paths=(values.BandPath(nodes=samples.way("grip_left", "grip_right").nodes, closed=True),),
    ),
    "lengthens by": samples.movement(
        replace(
            samples.ROTATION,
            poses=tuple(
                reversed(
                    [
                        replace(samples.ROTATION.poses[0], phase_ratio=1.0),
                        replace(samples.ROTATION.poses[1], phase_ratio=0.0),
                    ]
                )
            ),
        )
    ),
    "towards the face": samples.movement(samples.CURL_RIGHT),
}


@pytest.mark.parametrize("told", list(UNSOUND))
def test_each_breach_is_named_with_its_option(told: str) -> None:
    """Every rule that a movement breaks is told in a sentence that says what was read."""
    found = _read(UNSOUND[told])

    assert told in found
    assert "sample.toml" in found
    assert "standard:" in found


def test_a_resisted_rise_with_its_safety_line_may_have_the_band_underfoot() -> None:
    """The one exception of the first truth holds only for the sit-to-stand pattern."""
    option = replace(
        samples.RISE,
        set_up=words.SetUp.UNDER_FEET,
        paths=(samples.way("sole_left", "grip_left"), samples.way("sole_right", "grip_right")),
    )

    assert "while rising" not in _read(samples.movement(option, pattern=words.Pattern.SIT_TO_STAND))
    assert "while rising" in _read(samples.movement(option))


def test_a_pull_towards_the_face_is_mended_by_another_anchor() -> None:
    """With an option whose band is not underfoot the movement stands."""
    other = samples.option(
        start=samples.both(elbow_flexion=15),
        end=samples.both(elbow_flexion=130),
        set_up=words.SetUp.NONE,
    )
    other = replace(other, kind=words.OptionKind.WITHOUT_BAND)

    assert "towards the face" not in _read(samples.movement(samples.CURL_RIGHT, other))
