import math

import numpy as np
import pytest
from tests.fakes import sample_options as samples

from halewright.core.catalogue.movement import BandPath, NodeKind, PathNode
from halewright.core.mechanics import kinematics, path
from halewright.core.mechanics.skeleton import REFERENCE_BODY as BODY


def _at(*values: float) -> path.Array:
    return np.array(values, dtype=np.float64)[:, None]


def test_a_straight_band_is_as_long_as_its_ends_are_apart() -> None:
    """Between two hands held forward the band is the distance of the shoulders."""
    option = samples.option(
        start={},
        end=samples.both(shoulder_flexion=90),
        paths=(samples.way("grip_left", "grip_right"),),
    )
    posture = kinematics.posture(body=BODY, option=option, phase_ratios=1.0)

    (span,) = path.lengths(posture=posture, path=option.paths[0])

    assert span.length_m == pytest.approx([2.0 * BODY.half_shoulder_m])


def test_clamps_split_a_band_and_slides_do_not() -> None:
    """Hand, foot, hand: two spans where the foot pins the band, one where it slides."""
    posture = kinematics.posture(body=BODY, option=samples.ROW, phase_ratios=np.array([0.0, 1.0]))

    def laid(kind: NodeKind) -> tuple[path.Span, ...]:
        ends = (PathNode(kind=NodeKind.CLAMP, at=f"grip_{side}") for side in ("left", "right"))
        first, last = ends
        middle = PathNode(kind=kind, at="sole_left")
        return path.lengths(posture=posture, path=BandPath(nodes=(first, middle, last)))

    pinned, loose = laid(NodeKind.CLAMP), laid(NodeKind.SLIDE)

    assert (len(pinned), len(loose)) == (2, 1)
    assert loose[0].length_m == pytest.approx(pinned[0].length_m + pinned[1].length_m)


def test_a_wrap_over_half_a_cylinder_by_hand() -> None:
    """Ends level with the axis at 2 r: tangents √3 r each and an arc of 180 - 2·60 = 60°."""
    found = path.wrap(
        start_m=_at(0.0, -0.2, 0.0), end_m=_at(0.0, 0.2, 0.0), radius_m=0.1, over=(1.0, 0.0)
    )

    assert found.arc_m == pytest.approx([0.1 * math.pi / 3])
    tangent_m = np.linalg.norm(found.on_m - _at(0.0, -0.2, 0.0), axis=0)
    assert tangent_m == pytest.approx([0.1 * math.sqrt(3.0)])
    assert found.on_m[0, 0] > 0.0


def test_the_band_passes_on_the_side_that_is_asked() -> None:
    """The same ends wrap over the top or under the bottom, never the long way round."""
    ends = {"start_m": _at(0.01, -0.2, 0.0), "end_m": _at(0.01, 0.2, 0.0), "radius_m": 0.1}

    above = path.wrap(**ends, over=(1.0, 0.0))
    below = path.wrap(**ends, over=(-1.0, 0.0))

    assert above.on_m[0, 0] > 0.0 > below.on_m[0, 0]
    assert max(above.arc_m[0], below.arc_m[0]) < 0.1 * math.pi


def test_a_band_clear_of_the_cylinder_stays_straight() -> None:
    """A line that passes outside on the wanted side does not bend."""
    found = path.wrap(
        start_m=_at(0.2, -0.3, 0.0), end_m=_at(0.2, 0.3, 0.1), radius_m=0.1, over=(1.0, 0.0)
    )

    assert found.arc_m == pytest.approx([0.0])
    assert found.on_m == pytest.approx(_at(0.2, 0.0, 0.05))


def test_a_slanting_wrap_is_the_shortest_line_on_the_unrolled_cylinder() -> None:
    """Flat length l and rise h give √(l² + h²): here l = 2·0.1·√3 + 0.1·π/3, h = 0.3."""
    start, end = _at(0.0, -0.2, 0.0), _at(0.0, 0.2, 0.3)
    found = path.wrap(start_m=start, end_m=end, radius_m=0.1, over=(1.0, 0.0))

    total_m = (
        np.linalg.norm(found.on_m - start, axis=0)
        + found.arc_m
        + np.linalg.norm(end - found.off_m, axis=0)
    )
    flat_m = 0.2 * math.sqrt(3.0) + 0.1 * math.pi / 3
    assert total_m == pytest.approx([math.hypot(flat_m, 0.3)])


def test_a_belt_round_two_equal_circles() -> None:
    """Two thighs of 7 cm radius, 30 cm apart: 2·0.3 + 2π·0.07 = 1.0398 m."""
    found = path.belt_m(distance_m=np.array([0.3]), first_radius_m=0.07, second_radius_m=0.07)

    assert found == pytest.approx([0.6 + 2 * math.pi * 0.07])


def test_a_belt_round_unequal_circles_and_one_inside_the_other() -> None:
    """R = 2 r at d = 2 r: sin α = ½, so 2·√3 r + 2r(π + π/3) + r(π - π/3) = (2√3 + 10π/3) r."""
    found = path.belt_m(distance_m=np.array([0.2, 0.0]), first_radius_m=0.1, second_radius_m=0.2)

    expected_m = 0.1 * (2 * math.sqrt(3.0) + 10 * math.pi / 3)
    assert found == pytest.approx([expected_m, 2 * math.pi * 0.2])


def test_a_loop_round_the_knees_lengthens_as_they_part() -> None:
    """The loop is 2 d + 2 π r of the thighs where it lies, at each phase."""
    posture = kinematics.posture(
        body=BODY, option=samples.KNEES_APART, phase_ratios=np.array([0.0, 1.0])
    )
    (span,) = path.lengths(posture=posture, path=samples.KNEES_APART.paths[0])
    apart_m = np.linalg.norm(
        posture.point_m("thigh_low_left") - posture.point_m("thigh_low_right"), axis=0
    )

    expected_m = 2 * apart_m + 2 * math.pi * 0.85 * BODY.thigh_radius_m
    assert span.length_m == pytest.approx(expected_m)
    assert span.length_m[1] > span.length_m[0] + 0.1


def test_a_band_over_both_thighs_lies_on_top_of_each() -> None:
    """From seat edge to seat edge the band touches the upper side of either thigh."""
    nodes = ["seat_left", "thigh_mid_left", "thigh_mid_right", "seat_right"]
    band = samples.way(*nodes, wraps=("thigh_mid_left", "thigh_mid_right"))
    posture = kinematics.posture(body=BODY, option=samples.ROTATION, phase_ratios=0.0)

    (span,) = path.lengths(posture=posture, path=band)

    hip_z_m = BODY.hip_height_m
    assert all(corner[2, 0] > hip_z_m for corner in span.course_m[2:4])
    # The flat part from thigh to thigh is level with the tops and the joints' distance long.
    between_m = float(np.linalg.norm(span.course_m[3] - span.course_m[2], axis=0)[0])
    assert between_m == pytest.approx(2 * BODY.half_hip_m, abs=1e-3)


@pytest.mark.parametrize(
    ("band", "reason"),
    [
        (samples.way("grip_left", "moon"), "moon"),
        (samples.way("grip_left", "chin", "grip_right", wraps=("chin",)), "cylinder"),
        (samples.way("grip_left"), "two points"),
        (samples.way("thigh_low_left", "grip_left", wraps=("thigh_low_left",)), "begin"),
    ],
)
def test_a_band_that_cannot_be_laid_says_why(band: BandPath, reason: str) -> None:
    """Each impossible way is refused with its reason in words."""
    posture = kinematics.posture(body=BODY, option=samples.ROW, phase_ratios=0.0)

    with pytest.raises(path.NoBandWay, match=reason):
        path.lengths(posture=posture, path=band)
