"""Limits: what one person must not exceed, or may only approach with care, and who says so."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum


class Measure(StrEnum):
    """A demand; more is always more demanding, so a limit is always "at most".

    Angles are in radians, tension in newtons, scores as in `core.catalogue.movement.Declared`.
    """

    SHOULDER_ELEVATION = "shoulder_elevation_rad"
    """Upper arm away from the trunk's downward axis, any direction."""
    SHOULDER_EXTENSION = "shoulder_extension_rad"
    SHOULDER_EXTERNAL_ROTATION = "shoulder_external_rotation_rad"
    ELBOW_FLEXION = "elbow_flexion_rad"
    HIP_FLEXION = "hip_flexion_rad"
    HIP_ADDUCTION = "hip_adduction_rad"
    """Past the midline: 0 where the thigh never crosses."""
    HIP_INTERNAL_ROTATION = "hip_internal_rotation_rad"
    HIP_EXTENSION = "hip_extension_rad"
    KNEE_FLEXION = "knee_flexion_rad"
    TRUNK_FLEXION = "trunk_flexion_rad"
    """Bending of the back itself, loaded or not; a lean from the hips does not count."""
    TRUNK_FLEXION_LOADED = "trunk_flexion_loaded_rad"
    TRUNK_ROTATION_LOADED = "trunk_rotation_loaded_rad"
    NECK_EXTENSION = "neck_extension_rad"
    KNEE_LOAD = "knee_load_score"
    BALANCE = "balance_score"
    GRIP = "grip_score"
    BREATH_HOLD = "breath_hold_score"
    STEPS_TO_REMEMBER = "steps_to_remember_count"
    RISES = "rises_per_round_count"
    STANDING = "standing_count"
    """0 seated throughout, 1 stands with two hands held, 2 one hand, 3 fingertips, 4 hands free."""
    BAND = "band_count"
    """1 where a band is used."""
    FOOT_ANCHOR = "foot_anchor_count"
    PULL_TOWARDS_FACE = "pull_towards_face_count"
    """1 where a band anchored at the foot is drawn towards the head."""
    BAND_ON_SKIN = "band_on_skin_count"
    """1 where the band lies on or is wound round a limb."""
    ARMS_OVERHEAD = "arms_overhead_count"
    POWER = "power_count"
    TENSION = "tension_n"
    """Known only once a measured band is set; see `core.mechanics.demands`."""


class BodySide(StrEnum):
    """A side of the body, or both."""

    LEFT = "left"
    RIGHT = "right"
    BOTH = "both"


class Strength(StrEnum):
    """What happens beyond the limit."""

    CARE = "care"
    """The option may be used, with the reason in view."""
    AVOID = "avoid"
    """The option is not suitable for this person."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """At most so much of one demand; the unit is the measure's own.

    `told_by` names the clinician who told the limit: such a limit can be cured only by a recorded
    change to the person, never accepted away. `side` is left, right or both.
    `rule` is the rule that gave it ("told" for one from a clinician or the person).
    """

    measure: Measure
    at_most: float  # unit: the measure's own, see Measure
    strength: Strength
    reason: str
    source: str
    rule: str
    side: BodySide = BodySide.BOTH
    reviewed_on: date | None = None
    told_by: str | None = None
