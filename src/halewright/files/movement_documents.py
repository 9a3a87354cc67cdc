"""The shape of a movement file: what may be written, and where. Degrees and seconds live here."""

import msgspec

from halewright.core.catalogue import words
from halewright.core.catalogue.movement import NodeKind

SCHEMA = "halewright.movement"
VERSION = 1


class TempoDoc(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Seconds of one repetition."""

    out_s: float
    hold_s: float
    back_s: float
    pause_s: float = 0.0


class PoseDoc(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Angles in degrees; a paired joint without `_left` or `_right` means both sides."""

    phase: float
    angles_deg: dict[str, float]


class NodeDoc(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A place where the band is guided."""

    kind: NodeKind
    at: str
    friction_ratio: float = 0.0


class PathDoc(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The way of one band."""

    nodes: list[NodeDoc]
    closed: bool = False
    strands: int = 1


class DeclaredDoc(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Demands that the angles cannot tell."""

    knee_load_score: float | None = None
    balance_score: float | None = None
    grip_score: float | None = None
    breath_hold_score: float | None = None
    steps_to_remember_count: float | None = None
    rises_per_rep_count: float | None = None


class StandardDoc(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The standard way, complete."""

    how: str
    position: words.Position
    set_up: words.SetUp
    support: words.HandSupport
    sides: words.Sides
    tempo: TempoDoc
    poses: list[PoseDoc]
    paths: list[PathDoc] = []
    declared: DeclaredDoc | None = None


class OptionDoc(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Another way; a field left out is the standard way's. `range_share` scales the movement."""

    how: str
    position: words.Position | None = None
    set_up: words.SetUp | None = None
    support: words.HandSupport | None = None
    sides: words.Sides | None = None
    tempo: TempoDoc | None = None
    poses: list[PoseDoc] | None = None
    paths: list[PathDoc] | None = None
    declared: DeclaredDoc | None = None
    range_share: float = 1.0


class TeachingDoc(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The words."""

    start: str
    set_up: str
    points: list[str]
    breath: str
    faults: list[str]
    safety: str
    daily_life: str


class MovementDoc(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One movement file."""

    schema: str
    version: int
    id: str
    name: str
    part: words.Part
    pattern: words.Pattern
    prime_movers: list[words.Muscle]
    helper_muscles: list[words.Muscle]
    goals: list[words.Goal]
    source: str
    teaching: TeachingDoc
    standard: StandardDoc
    gentler: OptionDoc | None = None
    stronger: OptionDoc | None = None
    without_band: OptionDoc | None = None
    power: bool = False
    gentler_movement: str | None = None
    stronger_movement: str | None = None
    views: list[str] = []
