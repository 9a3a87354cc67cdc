"""Where the band is drawn: closed round limbs, beside the shoe, out of the fist, hung if slack."""

from dataclasses import replace

import numpy as np
import pytest
from tests.fakes import sample_options as samples

from halewright.core.catalogue.movement import Option, Pose
from halewright.core.mechanics import kinematics
from halewright.core.mechanics.skeleton import REFERENCE_BODY
from halewright.media import camera as cameras
from halewright.media import figure_band, figure_course, figure_person, outline
from halewright.media.figure_course import Course
from halewright.media.figure_parts import Sketch


def _sketch(option: Option, *, azimuth_deg: float = 38.0) -> Sketch:
    posture = kinematics.posture(
        body=REFERENCE_BODY, option=option, phase_ratios=np.array([1.0, 0.0])
    )
    eye = cameras.camera(azimuth_deg=azimuth_deg, elevation_deg=10.0)
    return Sketch(posture=posture, frame=0, camera=eye)


def _courses(option: Option) -> list[Course]:
    (path,) = option.paths[:1]
    return figure_course.courses(_sketch(option), path)


def test_a_loop_is_closed() -> None:
    """A loop round both thighs ends where it began, and lies flat all the way."""
    (loop,) = _courses(samples.KNEES_APART)

    assert loop.corners_m[:, 0] == pytest.approx(loop.corners_m[:, -1])
    assert loop.half_m is not None
    assert loop.half_m.shape == loop.corners_m.shape


def test_a_loop_goes_behind_both_thighs() -> None:
    """Seen from below it has a strand before and one behind: twice as deep as a thigh is thick."""
    (loop,) = _courses(samples.KNEES_APART)

    thick_m = 2.0 * 0.85 * REFERENCE_BODY.thigh_radius_m
    assert np.ptp(loop.corners_m[2]) >= 0.95 * thick_m


def test_a_loop_from_the_front_is_one_piece_over_the_thighs() -> None:
    """From the front the strand across both thighs is whole: no loose ends between the knees."""
    option = samples.KNEES_APART
    sketch = _sketch(option, azimuth_deg=90.0)
    person = figure_person.parts(sketch)

    (band,) = figure_band.parts(sketch, paths=option.paths, person=person)

    across = sketch.camera.flat(sketch.posture.point_m("knee_left"))[0, 0]
    left, _, right, _ = max(
        outline.shapely.get_parts(band.coats[-1].shape), key=lambda piece: piece.area
    ).bounds
    assert right - left > abs(across)


def test_a_band_underfoot_comes_up_beside_the_shoe() -> None:
    """The step that ends under a sole is told as hidden, and begins at the shoe's outer edge."""
    row = replace(samples.ROW, paths=(samples.way("grip_right", "sole_right"),))
    course = _courses(row)[0]

    hand, edge, middle = course.corners_m.T
    assert course.under == ("", "foot_right")
    assert float(np.linalg.norm(edge - middle)) == pytest.approx(0.047, abs=1e-6)
    assert edge[1] < middle[1]
    assert hand[1] < middle[1]


def test_a_free_end_hangs_from_each_fist() -> None:
    """A band held in two hands shows two free ends, which drop below the hands."""
    tails = [course for course in _courses(samples.ROTATION) if course.hand]

    assert {tail.hand for tail in tails} == {"left", "right"}
    for tail in tails:
        assert tail.corners_m[2, -1] < tail.corners_m[2, 0]


def test_a_slack_band_hangs() -> None:
    """Hands that come together from a taut start let the band sag between them.

    Hand calculation: hands 0.34 m apart with 0.30 m of slack sag by √(0.375 · 0.34 · 0.30) = 0.20,
    which the drawing limits to 0.4 · 0.34 = 0.14 m.
    """
    taut = samples.ROTATION
    first, *_, last = taut.poses
    back = (
        Pose(phase_ratio=0.0, angles_rad=last.angles_rad),
        Pose(phase_ratio=1.0, angles_rad=first.angles_rad),
    )

    stretched = _courses(taut)[0].corners_m
    slack = _courses(replace(taut, poses=back))[0].corners_m

    assert stretched.shape[1] == 2
    assert slack[2].min() < min(slack[2, 0], slack[2, -1]) - 0.05
