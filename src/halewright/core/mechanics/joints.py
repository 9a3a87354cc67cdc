"""The names, signs, and published ranges of the body's joint angles, and their mirror image.

Every angle is in radians and zero in upright standing with the arms hanging, palms to the thighs.
Positive is flexion, abduction, external rotation, dorsiflexion and supination; for the pelvis,
trunk and neck, forward lean, and side bend, list and rotation to the left.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from halewright.core import units

PELVIS = ("pelvis_tilt", "pelvis_list", "pelvis_rotation")
TRUNK = ("trunk_flexion", "trunk_side_bend", "trunk_rotation")
"""Shared half and half by the lumbar and the thoracic joint."""
NECK = ("neck_flexion", "neck_side_bend", "neck_rotation")
UNPAIRED = PELVIS + TRUNK + NECK

ARM = (
    "shoulder_flexion",
    "shoulder_abduction",
    "shoulder_rotation",
    "elbow_flexion",
    "forearm_supination",
    "wrist_flexion",
)
LEG = ("hip_flexion", "hip_abduction", "hip_rotation", "knee_flexion", "ankle_dorsiflexion")
PAIRED = ARM + LEG

SIDES = ("left", "right")
NAMES = UNPAIRED + tuple(f"{name}_{side}" for side in SIDES for name in PAIRED)
"""Every angle that a movement file may name, in the order of the kinematic chain's sides."""

_TURNS_WITH_THE_MIRROR = frozenset(
    {
        "pelvis_list",
        "pelvis_rotation",
        "trunk_side_bend",
        "trunk_rotation",
        "neck_side_bend",
        "neck_rotation",
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Range:
    """How far a joint goes from zero: `low_rad` the negative way, `high_rad` the positive way.

    `older_low_rad` and `older_high_rad` are the means of healthy people of 65 to 85, or None where
    nobody in our sources measured them. `status` is "verified", "from memory" or "common practice".
    """

    low_rad: float
    high_rad: float
    source: str
    status: str
    older_low_rad: float | None = None
    older_high_rad: float | None = None


AAOS = "AAOS (Greene & Heckman 1994; AAOS 1965)"
WALKER = "Walker JM et al. 1984 Phys Ther 64:919-923 (65 to 85 years, n = 60)"
TRADE = "common practice"


def _range(
    *,
    low_deg: float,
    high_deg: float,
    source: str,
    status: str,
    older: tuple[float, float] | None = None,
) -> Range:
    """Write a range in degrees, as the publications print it."""
    return Range(
        low_rad=units.radians(low_deg),
        high_rad=units.radians(high_deg),
        source=source if older is None else f"{source}; {WALKER}",
        status=status,
        older_low_rad=None if older is None else units.radians(older[0]),
        older_high_rad=None if older is None else units.radians(older[1]),
    )


RANGES_RAD: Mapping[str, Range] = {
    # No publication measures the whole pelvis in space; these bound what a seated or held body can
    # do without falling off its base.
    "pelvis_tilt": _range(low_deg=-30, high_deg=80, source=TRADE, status=TRADE),
    "pelvis_list": _range(low_deg=-20, high_deg=20, source=TRADE, status=TRADE),
    "pelvis_rotation": _range(low_deg=-45, high_deg=45, source=TRADE, status=TRADE),
    "trunk_flexion": _range(low_deg=-30, high_deg=80, source=AAOS, status="from memory"),
    "trunk_side_bend": _range(low_deg=-35, high_deg=35, source=AAOS, status="from memory"),
    "trunk_rotation": _range(low_deg=-45, high_deg=45, source=AAOS, status="from memory"),
    "neck_flexion": _range(low_deg=-45, high_deg=45, source=AAOS, status="from memory"),
    "neck_side_bend": _range(low_deg=-45, high_deg=45, source=AAOS, status="from memory"),
    "neck_rotation": _range(low_deg=-60, high_deg=60, source=AAOS, status="from memory"),
    "shoulder_flexion": _range(
        low_deg=-60, high_deg=180, older=(-44, 165), source=AAOS, status="verified"
    ),
    # The way inward (across the body) is AAOS horizontal flexion, 135 from the side, less 90.
    "shoulder_abduction": _range(
        low_deg=-45, high_deg=180, older=(-45, 165), source=AAOS, status="verified"
    ),
    "shoulder_rotation": _range(
        low_deg=-70, high_deg=90, older=(-62, 81), source=AAOS, status="verified"
    ),
    "elbow_flexion": _range(
        low_deg=0, high_deg=150, older=(0, 143), source=AAOS, status="verified"
    ),
    "forearm_supination": _range(
        low_deg=-80, high_deg=80, older=(-71, 74), source=AAOS, status="verified"
    ),
    "wrist_flexion": _range(
        low_deg=-70, high_deg=80, older=(-63, 64), source=AAOS, status="verified"
    ),
    "hip_flexion": _range(low_deg=-30, high_deg=120, source=AAOS, status="from memory"),
    "hip_abduction": _range(low_deg=-30, high_deg=45, source=AAOS, status="from memory"),
    "hip_rotation": _range(low_deg=-45, high_deg=45, source=AAOS, status="from memory"),
    "knee_flexion": _range(low_deg=0, high_deg=135, source=AAOS, status="from memory"),
    "ankle_dorsiflexion": _range(low_deg=-50, high_deg=20, source=AAOS, status="from memory"),
}
"""By plain name: both sides share a range."""


def plain(name: str) -> str:
    """Return an angle's or point's name without its side."""
    return name.removesuffix("_left").removesuffix("_right")


def other_side(name: str) -> str:
    """Return the same name on the other side; a name without a side stays as it is."""
    if name.endswith("_left"):
        return f"{plain(name)}_right"
    if name.endswith("_right"):
        return f"{plain(name)}_left"
    return name


def mirror(angles_rad: Mapping[str, float]) -> dict[str, float]:
    """Return the angles of the mirror image: sides change places, turns to the left go right."""
    return {
        other_side(name): -angle_rad if name in _TURNS_WITH_THE_MIRROR else angle_rad
        for name, angle_rad in angles_rad.items()
    }
