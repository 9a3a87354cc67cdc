"""Five small options of our own, for tests of mechanics and figures."""

from collections.abc import Mapping

from halewright.core import units
from halewright.core.catalogue import movement as values
from halewright.core.catalogue import words


def both(**angles_deg: float) -> dict[str, float]:
    """Spell plain joint names out for both sides, in radians."""
    return {
        f"{name}_{side}": units.radians(angle)
        for name, angle in angles_deg.items()
        for side in ("left", "right")
    }


def one(**angles_deg: float) -> dict[str, float]:
    """Write single angles in radians."""
    return {name: units.radians(angle) for name, angle in angles_deg.items()}


def way(*places: str, closed: bool = False, wraps: tuple[str, ...] = ()) -> values.BandPath:
    """Lay a band over points: clamps, save where the point wraps."""
    nodes = tuple(
        values.PathNode(
            kind=values.NodeKind.WRAP if place in wraps else values.NodeKind.CLAMP, at=place
        )
        for place in places
    )
    return values.BandPath(nodes=nodes, closed=closed)


def option(
    *,
    start: Mapping[str, float],
    end: Mapping[str, float],
    paths: tuple[values.BandPath, ...] = (),
    position: words.Position = words.Position.SEATED,
    set_up: words.SetUp = words.SetUp.NONE,
    support: words.HandSupport = words.HandSupport.NONE,
    sides: words.Sides = words.Sides.BOTH,
    declared: values.Declared | None = None,
) -> values.Option:
    """Make an option with two poses and a plain tempo of five seconds."""
    return values.Option(
        kind=words.OptionKind.STANDARD,
        how="Move slowly.",
        position=position,
        set_up=set_up,
        support=support,
        sides=sides,
        tempo=values.Tempo(out_s=2.0, hold_s=1.0, back_s=2.0),
        poses=(
            values.Pose(phase_ratio=0.0, angles_rad=start),
            values.Pose(phase_ratio=1.0, angles_rad=end),
        ),
        paths=paths,
        declared=declared or values.Declared(),
    )


_LEGS_OUT = both(hip_flexion=72, knee_flexion=36, hip_abduction=4)

ROW = option(
    start=_LEGS_OUT | both(shoulder_flexion=34, elbow_flexion=14, shoulder_abduction=5),
    end=_LEGS_OUT | both(shoulder_flexion=-34, elbow_flexion=98, shoulder_abduction=10),
    paths=(way("sole_outer_left", "grip_left"), way("sole_outer_right", "grip_right")),
    set_up=words.SetUp.UNDER_FEET,
)
ROTATION = option(
    start=both(shoulder_flexion=4, elbow_flexion=90, shoulder_abduction=3),
    end=both(shoulder_flexion=4, elbow_flexion=90, shoulder_abduction=3, shoulder_rotation=48),
    paths=(way("grip_left", "grip_right"),),
    set_up=words.SetUp.IN_HANDS,
)
KNEES_APART = option(
    start=both(hip_abduction=3),
    end=both(hip_abduction=24),
    paths=(
        way(
            "thigh_low_left",
            "thigh_low_right",
            closed=True,
            wraps=("thigh_low_left", "thigh_low_right"),
        ),
    ),
    set_up=words.SetUp.ROUND_THIGHS,
)
RISE = option(
    start=both(hip_flexion=116, knee_flexion=100) | one(pelvis_tilt=28),
    end={},
    position=words.Position.RISING,
    declared=values.Declared(knee_load_score=2.0, rises_per_rep_count=1.0),
)
HEEL_RAISE = option(
    start={},
    end=both(ankle_dorsiflexion=-28),
    position=words.Position.SUPPORTED_STANDING,
    support=words.HandSupport.TWO_HANDS,
)
CURL_RIGHT = option(
    start=one(shoulder_flexion_right=8, elbow_flexion_right=15),
    end=one(shoulder_flexion_right=14, elbow_flexion_right=130, shoulder_flexion_left=0),
    paths=(way("sole_right", "grip_right"),),
    set_up=words.SetUp.UNDER_FEET,
    sides=words.Sides.EACH,
)
SAMPLES = {
    "row": ROW,
    "rotation": ROTATION,
    "knees-apart": KNEES_APART,
    "rise": RISE,
    "heel-raise": HEEL_RAISE,
    "curl": CURL_RIGHT,
}


def movement(*options: values.Option, **changes: object) -> values.Movement:
    """Wrap options in a movement; `changes` replace its other fields."""
    fields: dict[str, object] = {
        "id": values.MovementId("sample"),
        "name": "Sample",
        "part": words.Part.MAIN,
        "pattern": words.Pattern.HORIZONTAL_PULL,
        "prime_movers": (words.Muscle.UPPER_BACK,),
        "helper_muscles": (),
        "goals": (words.Goal.POSTURE,),
        "options": options,
        "teaching": values.Teaching(
            start="Sit tall.",
            set_up="Lay the band.",
            points=("Slowly.",),
            breath="Breathe.",
            faults=("Haste.",),
            safety="Stop if it hurts.",
            daily_life="Carrying.",
        ),
        "source": values.COMMON_PRACTICE,
    }
    return values.Movement(**{**fields, **changes})  # type: ignore[arg-type]
