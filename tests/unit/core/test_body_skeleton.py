import math

import pytest

from halewright.core.mechanics import joints, segment_table, skeleton
from halewright.core.mechanics.skeleton import REFERENCE_BODY
from halewright.core.people.person import Sex

# Segment, mass share, length in mm, centre as share from the first-named end, three radii:
# de Leva P (1996) J Biomech 29(9):1223-1230, Table 4, typed from the facts page, not from code.
FEMALE = """
head 0.0668 243.7 0.4841 0.271 0.295 0.261
upper_trunk 0.1545 228.0 0.505 0.466 0.314 0.449
middle_trunk 0.1465 205.3 0.4512 0.433 0.354 0.415
lower_trunk 0.1247 181.5 0.492 0.433 0.402 0.444
upper_arm 0.0255 275.1 0.5754 0.278 0.26 0.148
forearm 0.0138 264.3 0.4559 0.261 0.257 0.094
hand 0.0056 170.1 0.3427 0.244 0.208 0.154
thigh 0.1478 368.5 0.3612 0.369 0.364 0.162
shank 0.0481 438.6 0.4352 0.267 0.263 0.092
foot 0.0129 228.3 0.4014 0.299 0.279 0.139
"""
MALE = """
head 0.0694 242.9 0.5002 0.303 0.315 0.261
upper_trunk 0.1596 242.1 0.5066 0.505 0.32 0.465
middle_trunk 0.1633 215.5 0.4502 0.482 0.383 0.468
lower_trunk 0.1117 145.7 0.6115 0.615 0.551 0.587
upper_arm 0.0271 281.7 0.5772 0.285 0.269 0.158
forearm 0.0162 268.9 0.4574 0.276 0.265 0.121
hand 0.0061 187.9 0.3624 0.288 0.235 0.184
thigh 0.1416 422.2 0.4095 0.329 0.329 0.149
shank 0.0433 440.3 0.4395 0.251 0.246 0.102
foot 0.0137 258.1 0.4415 0.257 0.245 0.124
"""
# Plain name, low and high in degrees (AAOS), then Walker's 65 to 85 where there is one.
RANGES = """
shoulder_flexion -60 180 -44 165
shoulder_rotation -70 90 -62 81
elbow_flexion 0 150 0 143
forearm_supination -80 80 -71 74
wrist_flexion -70 80 -63 64
hip_flexion -30 120
hip_abduction -30 45
hip_rotation -45 45
knee_flexion 0 135
ankle_dorsiflexion -50 20
"""


def _lines(text: str) -> list[list[str]]:
    return [line.split() for line in text.strip().splitlines()]


@pytest.mark.parametrize(
    ("table", "printed"), [(segment_table.FEMALE, FEMALE), (segment_table.MALE, MALE)]
)
def test_the_segment_table_is_the_published_one(table: segment_table.Table, printed: str) -> None:
    """Every value of de Leva's Table 4 that we use is typed as the facts page gives it."""
    lines = _lines(printed)

    assert [line[0] for line in lines] == list(table.rows)
    for name, *numbers in lines:
        row = table.rows[name]
        assert [
            row.mass_share,
            row.length_mm,
            row.centre_ratio,
            *row.radius_ratios,
        ] == [float(number) for number in numbers]


def test_the_ranges_are_the_published_ones() -> None:
    """Joint ranges are AAOS's, and Walker's for 65 to 85 years where they measured."""
    for name, low, high, *older in _lines(RANGES):
        found = joints.RANGES_RAD[name]
        assert math.degrees(found.low_rad) == pytest.approx(float(low))
        assert math.degrees(found.high_rad) == pytest.approx(float(high))
        if older:
            assert found.older_low_rad is not None
            assert found.older_high_rad is not None
            assert math.degrees(found.older_low_rad) == pytest.approx(float(older[0]))
            assert math.degrees(found.older_high_rad) == pytest.approx(float(older[1]))


def test_every_angle_has_a_range_with_its_source() -> None:
    """No angle can be named for which nothing says how far it goes."""
    assert {joints.plain(name) for name in joints.NAMES} == set(joints.RANGES_RAD)
    assert all(found.source and found.status for found in joints.RANGES_RAD.values())


@pytest.mark.parametrize("sex", list(Sex))
def test_the_segments_weigh_what_the_body_weighs(sex: Sex) -> None:
    """Sixteen segments add up to the body's mass, whatever the table's own rounding."""
    body = skeleton.body(stature_m=1.7, mass_kg=70.0, sex=sex)

    assert len(body.segments) == 16
    assert sum(segment.mass_kg for segment in body.segments) == pytest.approx(70.0)


def test_a_womans_thigh_by_hand() -> None:
    """1.62 m: 0.3685 / 1.735 × 1.62 = 0.3441 m; 68 kg: 0.1478 / 0.9999 × 68 = 10.05 kg."""
    thigh = REFERENCE_BODY.segment("thigh_left")

    assert thigh.length_m == pytest.approx(0.34407, abs=1e-4)
    assert thigh.mass_kg == pytest.approx(10.0514, abs=1e-3)
    assert thigh.centre_m == pytest.approx((0.0, 0.0, -0.3612 * 0.34407), abs=1e-4)


def test_trunk_centres_count_from_the_cranial_end() -> None:
    """The lower trunk's centre is 49.2 % below the navel: 0.508 of 0.1695 m above the hips."""
    lower = REFERENCE_BODY.segment("lower_trunk")

    assert lower.centre_m[2] == pytest.approx((1 - 0.492) * 181.5 / 1735 * 1.62)
    upper = REFERENCE_BODY.segment("upper_trunk")
    assert upper.centre_m[2] == pytest.approx((1 - 0.505) * 228.0 / 1735 * 1.62)


def test_the_parts_of_a_woman_stand_as_high_as_she_does() -> None:
    """Ankle, shank, thigh, trunk and head add up to the stature within one centimetre."""
    body = REFERENCE_BODY
    trunk_m = sum(body.length_m(name) for name in skeleton.TRUNK_AND_HEAD)
    legs_m = body.length_m("thigh") + body.length_m("shank") + body.ankle_height_m

    assert trunk_m + legs_m == pytest.approx(body.stature_m, abs=0.01)


def test_left_and_right_are_alike() -> None:
    """Paired segments differ only in the sign of their sideways offset."""
    for name in skeleton.ARM + skeleton.LEG:
        left = REFERENCE_BODY.segment(f"{name}_left")
        right = REFERENCE_BODY.segment(f"{name}_right")
        assert left.mass_kg == right.mass_kg
        assert left.centre_m == right.centre_m
        assert (left.joint_m[0], -left.joint_m[1], left.joint_m[2]) == right.joint_m


def test_a_measured_length_replaces_the_tables() -> None:
    """A leader's own measure of a thigh is taken over the proportion."""
    body = skeleton.body(
        stature_m=1.62, mass_kg=68.0, sex=Sex.FEMALE, overrides={"thigh_length_m": 0.40}
    )

    assert body.length_m("thigh") == 0.40
    assert body.segment("shank_right").joint_m == (0.0, 0.0, -0.40)


def test_an_unknown_measure_is_refused_with_the_known_ones() -> None:
    """A misspelt measure is never silently ignored."""
    with pytest.raises(skeleton.NoSuchMeasure, match="thigh_length_m"):
        skeleton.body(stature_m=1.6, mass_kg=60.0, sex=Sex.MALE, overrides={"leg": 1.0})
