"""A small catalogue movement that keeps every rule, to be broken on purpose in tests."""

from dataclasses import replace
from typing import Any

from halewright.core.catalogue import movement as values
from halewright.core.catalogue import words

HANDS = values.BandPath(
    nodes=(
        values.PathNode(kind=values.NodeKind.CLAMP, at="grip_left"),
        values.PathNode(kind=values.NodeKind.CLAMP, at="grip_right"),
    )
)
UNDER_FOOT = values.BandPath(
    nodes=(
        values.PathNode(kind=values.NodeKind.CLAMP, at="sole_right"),
        values.PathNode(kind=values.NodeKind.CLAMP, at="grip_right"),
    )
)
ON_CHAIR = values.BandPath(
    nodes=(
        values.PathNode(kind=values.NodeKind.CLAMP, at="seat_left"),
        values.PathNode(kind=values.NodeKind.CLAMP, at="grip_right"),
    )
)


def pose(phase_ratio: float, **angles_rad: float) -> values.Pose:
    """Return a pose with these angles."""
    return values.Pose(phase_ratio=phase_ratio, angles_rad=angles_rad)


STANDARD = values.Option(
    kind=words.OptionKind.STANDARD,
    how="Draw the hands apart.",
    position=words.Position.SEATED,
    set_up=words.SetUp.IN_HANDS,
    support=words.HandSupport.NONE,
    sides=words.Sides.BOTH,
    tempo=values.Tempo(out_s=2.0, hold_s=1.0, back_s=3.0),
    poses=(
        pose(0.0, elbow_flexion_left=1.0, elbow_flexion_right=1.0),
        pose(1.0, elbow_flexion_left=0.5, elbow_flexion_right=0.5),
    ),
    paths=(HANDS,),
    declared=values.Declared(grip_score=1.0),
)
GENTLER = replace(STANDARD, kind=words.OptionKind.GENTLER)
STRONGER = replace(STANDARD, kind=words.OptionKind.STRONGER)
WITHOUT_BAND = replace(
    STANDARD, kind=words.OptionKind.WITHOUT_BAND, set_up=words.SetUp.NONE, paths=()
)
TEACHING = values.Teaching(
    start="Sit tall.",
    set_up="Hold the band in both hands.",
    points=("Shoulders low.",),
    breath="Breathe out as you draw.",
    faults=("Shrugging.",),
    safety="Let the band go slack before you put it down.",
    daily_life="Helps with opening doors.",
)


def sound(**changes: Any) -> values.Movement:
    """Return the sound movement with some fields changed."""
    whole: dict[str, Any] = {
        "id": values.MovementId("draw-apart"),
        "name": "Draw apart",
        "part": words.Part.MAIN,
        "pattern": words.Pattern.HORIZONTAL_PULL,
        "prime_movers": (words.Muscle.UPPER_BACK,),
        "helper_muscles": (words.Muscle.SHOULDERS,),
        "goals": (words.Goal.POSTURE,),
        "options": (STANDARD, GENTLER, STRONGER, WITHOUT_BAND),
        "teaching": TEACHING,
        "source": values.COMMON_PRACTICE,
    }
    return values.Movement(**{**whole, **changes})


def with_standard(**changes: Any) -> values.Movement:
    """Return the sound movement with its standard way changed."""
    return sound(options=(replace(STANDARD, **changes), GENTLER, STRONGER, WITHOUT_BAND))


def with_words(**changes: Any) -> values.Movement:
    """Return the sound movement with its teaching words changed."""
    return sound(teaching=replace(TEACHING, **changes))
