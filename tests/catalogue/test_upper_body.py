"""The upper-body movements and the cool-down that ship: a way for everybody, faces kept clear."""

import itertools
import re

import numpy as np
import pytest

from halewright.core import units
from halewright.core.catalogue.movement import Movement, Option
from halewright.core.catalogue.words import Muscle, OptionKind, Part, Pattern, SetUp
from halewright.core.mechanics import demand_rules, kinematics, path, points, pose_checks
from halewright.core.mechanics.skeleton import REFERENCE_BODY
from halewright.core.people.limits import Measure
from halewright.files import movements

SORE_SHOULDER_RAD = units.radians(80)
"""Below shoulder height with room to spare: common practice for a sore shoulder."""
HIP_RULE_RAD = units.radians(90)
"""After a hip replaced from behind: hospital leaflets, from memory."""
NEAR_FACE_M = 0.20
"""Nearer than this a band that lets go could strike the eye: our rule."""
MOST_STRETCH_RATIO = 2.5
"""Planned stretch, below a published limit of three times: common practice."""
LEAST_STRETCH_RATIO = 1.1
"""A span that lengthens by less is hardly felt: our rule."""
STILL_M = 0.01
"""A span that changes by less lies still, as between the soles."""

UPPER = (
    Pattern.HORIZONTAL_PULL,
    Pattern.VERTICAL_PULL,
    Pattern.PUSH,
    Pattern.SHOULDER_RAISE,
    Pattern.EXTERNAL_ROTATION,
    Pattern.ELBOW_FLEXION,
    Pattern.ELBOW_EXTENSION,
    Pattern.GRIP,
)
UPPER_MUSCLES = (
    Muscle.UPPER_BACK,
    Muscle.CHEST,
    Muscle.SHOULDERS,
    Muscle.ROTATOR_CUFF,
    Muscle.BICEPS,
    Muscle.TRICEPS,
    Muscle.FOREARMS,
)

SHIPPED = movements.shipped()
ARMS = tuple(movement for movement in SHIPPED.values() if movement.pattern in UPPER)
COOL_DOWN = tuple(movement for movement in SHIPPED.values() if movement.part is Part.COOL_DOWN)
WAYS = tuple((movement, option) for movement in ARMS for option in movement.options)

each_arm_movement = pytest.mark.parametrize("movement", ARMS, ids=lambda m: m.id)
each_cool_down = pytest.mark.parametrize("movement", COOL_DOWN, ids=lambda m: m.id)
each_pattern = pytest.mark.parametrize("pattern", UPPER, ids=lambda p: p.value)


def most(option: Option, measure: Measure) -> float:
    return demand_rules.of(option=option, power=False).most(measure)


def ways_of(pattern: Pattern) -> tuple[Option, ...]:
    return tuple(option for movement, option in WAYS if movement.pattern is pattern)


def nearest_to_face_m(option: Option) -> float:
    """Return how near any span of the band comes to the face over a repetition."""
    posture = kinematics.posture(
        body=REFERENCE_BODY, option=option, phase_ratios=demand_rules.PHASES
    )
    face_m = posture.point_m("face")
    gaps_m = []
    for band in option.paths:
        places_m = [posture.point_m(node.at) for node in band.nodes]
        for here_m, there_m in itertools.pairwise(places_m):
            for share in np.linspace(0.0, 1.0, 21):
                on_band_m = here_m + share * (there_m - here_m)
                gaps_m.append(float(np.linalg.norm(on_band_m - face_m, axis=0).min()))
    return min(gaps_m)


def working_spans_m(option: Option) -> list[np.ndarray]:
    """Return the lengths over a repetition of every span that the movement draws out."""
    posture = kinematics.posture(
        body=REFERENCE_BODY, option=option, phase_ratios=demand_rules.PHASES
    )
    spans = [span for band in option.paths for span in path.lengths(posture=posture, path=band)]
    return [span.length_m for span in spans if np.ptp(span.length_m) > STILL_M]


@each_arm_movement
def test_every_pose_suits_a_body(movement: Movement) -> None:
    """Every arm movement stays within older adults' ranges and its band pulls where it should."""
    assert list(pose_checks.check(movement)) == []


@each_cool_down
def test_every_cool_down_pose_suits_a_body(movement: Movement) -> None:
    """Every cool-down movement stays within older adults' ranges."""
    assert list(pose_checks.check(movement)) == []


@each_arm_movement
def test_a_band_can_work_from_the_start(movement: Movement) -> None:
    """A band just taut at the start is felt at the end and not stretched beyond what is planned.

    Hand calculation: hands 0.34 m apart that open to 0.80 m stretch a taut band 0.80/0.34 = 2.35.
    """
    for option in movement.options:
        spans_m = working_spans_m(option)

        assert bool(spans_m) is bool(option.paths)
        for length_m in spans_m:
            ratio = float(length_m.max() / length_m[0])
            assert LEAST_STRETCH_RATIO <= ratio <= MOST_STRETCH_RATIO, option.kind


@each_pattern
def test_there_is_a_choice_in_every_pattern(pattern: Pattern) -> None:
    """Each upper-body pattern has three main movements, so that weeks can differ."""
    assert len([movement for movement in ARMS if movement.pattern is pattern]) >= 3


@pytest.mark.parametrize("muscle", UPPER_MUSCLES, ids=lambda m: m.value)
def test_every_upper_muscle_is_worked(muscle: Muscle) -> None:
    """Each muscle group above the waist is the prime mover of at least two movements."""
    assert len([movement for movement in ARMS if muscle in movement.prime_movers]) >= 2


@each_arm_movement
def test_a_band_underfoot_has_another_anchor(movement: Movement) -> None:
    """Where a band is held underfoot, another way holds a band elsewhere, away from the foot."""
    anchored = [option for option in movement.options if demand_rules.anchored_at_foot(option)]
    elsewhere = [
        option
        for option in movement.options
        if option.paths and not demand_rules.anchored_at_foot(option)
    ]

    assert not anchored or elsewhere


@each_arm_movement
def test_no_band_is_drawn_close_to_the_face(movement: Movement) -> None:
    """No span of any band comes within a hand's length of the face at any moment."""
    banded = [option for option in movement.options if option.paths]

    assert [option.kind for option in banded if nearest_to_face_m(option) < NEAR_FACE_M] == []


@each_arm_movement
def test_the_gentler_way_spares_a_sore_shoulder(movement: Movement) -> None:
    """The gentler way of every arm movement keeps the upper arms well below shoulder height."""
    gentler = movement.option(OptionKind.GENTLER)

    assert most(gentler, Measure.SHOULDER_ELEVATION) <= SORE_SHOULDER_RAD


@each_arm_movement
def test_a_weak_hand_can_take_part(movement: Movement) -> None:
    """Every movement with a band in the hands has a way that asks nothing firm of a weak hand."""
    gripped = any(
        node.at in points.GRIPS for band in movement.standard.paths for node in band.nodes
    )
    light = [option for option in movement.options if most(option, Measure.GRIP) <= 1.0]

    assert not gripped or light


@each_pattern
def test_a_hand_that_cannot_hold_has_a_way(pattern: Pattern) -> None:
    """Each upper-body pattern has a way that needs no grip at all."""
    assert [option for option in ways_of(pattern) if most(option, Measure.GRIP) == 0.0]


@each_pattern
def test_thin_skin_has_a_way_with_a_band(pattern: Pattern) -> None:
    """Each upper-body pattern has a banded way with the band neither on a limb nor underfoot."""
    spared = [
        option
        for option in ways_of(pattern)
        if option.paths
        and most(option, Measure.BAND_ON_SKIN) == 0.0
        and most(option, Measure.FOOT_ANCHOR) == 0.0
    ]

    assert spared


@each_pattern
def test_high_blood_pressure_has_a_way(pattern: Pattern) -> None:
    """Each upper-body pattern has a way without held breath and without arms overhead."""
    calm = [
        option
        for option in ways_of(pattern)
        if most(option, Measure.BREATH_HOLD) == 0.0 and most(option, Measure.ARMS_OVERHEAD) == 0.0
    ]

    assert calm


def test_a_long_press_is_counted_aloud() -> None:
    """Where a breath is likely to be held, the words keep people counting or breathing."""
    likely = [movement for movement, option in WAYS if option.declared.breath_hold_score >= 2.0]
    told = [m for m in likely if re.search(r"count|keep breathing", m.teaching.breath, re.I)]

    assert likely
    assert told == likely


def test_no_band_is_wound_round_a_hand() -> None:
    """No words tell people to wind or wrap a band round the hand: it bruises thin skin."""
    wound = re.compile(r"\b(wrap|wind|wound)\w*\b[^.]*\b(hand|wrist|palm|forearm)", re.IGNORECASE)
    texts = {
        movement.id: " ".join(
            (
                movement.teaching.set_up,
                movement.teaching.start,
                movement.teaching.safety,
                *movement.teaching.points,
                *(option.how for option in movement.options),
            )
        )
        for movement in ARMS
    }

    assert [name for name, text in texts.items() if wound.search(text)] == []


def test_a_band_underfoot_comes_off_before_standing() -> None:
    """Every arm movement with a band underfoot says in its safety line to take it off first."""
    anchored = [m for m in ARMS if demand_rules.anchored_at_foot(m.standard)]

    assert anchored
    for movement in anchored:
        assert "before you stand" in movement.teaching.safety


def test_the_cool_down_is_long_enough_to_choose_from() -> None:
    """There are ten cool-down movements or more, all seated and without a band."""
    assert len(COOL_DOWN) >= 10
    for movement in COOL_DOWN:
        assert all(option.set_up is SetUp.NONE for option in movement.options)


@pytest.mark.parametrize(
    "movement", [m for m in COOL_DOWN if m.pattern is Pattern.STRETCH], ids=lambda m: m.id
)
def test_a_stretch_is_held_but_not_too_long(movement: Movement) -> None:
    """A stretch is held for 10 to 30 seconds (common practice), its gentler way no longer."""
    standard, gentler = movement.standard, movement.option(OptionKind.GENTLER)

    assert 10.0 <= standard.tempo.hold_s <= 30.0
    assert gentler.tempo.hold_s <= standard.tempo.hold_s


@each_cool_down
def test_the_cool_down_keeps_the_head_level(movement: Movement) -> None:
    """Nobody's head is tipped back in the cool-down."""
    assert [o.kind for o in movement.options if most(o, Measure.NECK_EXTENSION) > 0.0] == []


@each_cool_down
def test_a_new_hip_has_a_way_to_cool_down(movement: Movement) -> None:
    """Every cool-down movement has a way with hips bent to 90° at most and thighs never crossed."""
    kept = [
        option
        for option in movement.options
        if most(option, Measure.HIP_FLEXION) <= HIP_RULE_RAD + 1e-3
        and most(option, Measure.HIP_ADDUCTION) == 0.0
        and most(option, Measure.HIP_INTERNAL_ROTATION) == 0.0
    ]

    assert kept


def test_the_feet_move_before_anybody_stands() -> None:
    """The cool-down has a movement of the ankles whose words keep people seated until steady."""
    pumps = [
        m for m in COOL_DOWN if Muscle.CALVES in m.prime_movers and "steady" in m.teaching.safety
    ]

    assert pumps
