"""A movement and its options, as frozen values; angles in radians, anatomical names and signs.

The signs (see `core.mechanics.skeleton` for the axes): flexion, abduction, external rotation,
dorsiflexion and supination are positive; trunk and neck side bend and rotation are positive to the
left. Every angle is zero in upright standing with the arms hanging, palms facing the thighs.
An angle's name carries `_left` or `_right` for paired joints: `shoulder_flexion_left`.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import NewType

from halewright.core.catalogue.words import (
    Goal,
    HandSupport,
    Muscle,
    OptionKind,
    Part,
    Pattern,
    Position,
    SetUp,
    Sides,
)
from halewright.core.errors import HalewrightError

MovementId = NewType("MovementId", str)

COMMON_PRACTICE = "common practice"
"""The source of a fact of the trade that no publication backs."""


class NoSuchOption(HalewrightError):
    """A way of doing a movement that its file does not give."""

    def __init__(self, *, movement: str, kind: str) -> None:
        """Name the movement and the way."""
        super().__init__(f"“{movement}” has no option “{kind}”.")


@dataclass(frozen=True, slots=True, kw_only=True)
class Pose:
    """Joint angles at one moment of a repetition; `phase_ratio` 0 is the start, 1 the far end.

    `angles_rad` names only the angles that differ from the position's own base pose.
    """

    phase_ratio: float
    angles_rad: Mapping[str, float]


class NodeKind(StrEnum):
    """How the band meets a point of the body or chair."""

    CLAMP = "clamp"
    """Held: the band cannot slide here; clamps split a band into spans."""
    SLIDE = "slide"
    """Passes over a point, with friction."""
    WRAP = "wrap"
    """Passes round a cylinder (a thigh)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PathNode:
    """One place where the band is guided; `at` is a point of `core.mechanics.points`."""

    kind: NodeKind
    at: str
    friction_ratio: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class BandPath:
    """The way of one band; `closed` for a loop (its nodes are all wraps or slides)."""

    nodes: tuple[PathNode, ...]
    closed: bool = False
    strands: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Tempo:
    """The pace of one repetition in seconds; a static hold has `out_s` and `back_s` short."""

    out_s: float
    hold_s: float
    back_s: float
    pause_s: float = 0.0

    @property
    def rep_s(self) -> float:
        """Seconds that one repetition lasts."""
        return self.out_s + self.hold_s + self.back_s + self.pause_s


@dataclass(frozen=True, slots=True, kw_only=True)
class Declared:
    """Demands that joint angles cannot tell, on small plain scales.

    `knee_load_score` 0 none, 1 the leg's own weight or band, 2 body weight.
    `balance_score` 0 seated, 1 two-hand support, 2 fingertips or one foot, 3 hands free.
    `grip_score` 0 none, 1 light, 2 firm. `breath_hold_score` 0 unlikely, 1 some, 2 likely.
    `rises_per_rep_count` is the number of times the person stands up in one repetition.
    """

    knee_load_score: float = 0.0
    balance_score: float = 0.0
    grip_score: float = 0.0
    breath_hold_score: float = 0.0
    steps_to_remember_count: float = 1.0
    rises_per_rep_count: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """One way of doing a movement, complete in itself (the file may write only what differs).

    Poses are authored with the right side working where the sides differ; the left is its mirror.
    """

    kind: OptionKind
    how: str
    position: Position
    set_up: SetUp
    support: HandSupport
    sides: Sides
    tempo: Tempo
    poses: tuple[Pose, ...]
    paths: tuple[BandPath, ...]
    declared: Declared

    @property
    def needs_chair_arms(self) -> bool:
        """Whether the hands push on the arms of the chair: they help in a rise."""
        return self.position is Position.RISING and self.support is not HandSupport.NONE


@dataclass(frozen=True, slots=True, kw_only=True)
class Teaching:
    """The words of a movement, in plain sentences for the person who moves."""

    start: str
    set_up: str
    points: tuple[str, ...]
    breath: str
    faults: tuple[str, ...]
    safety: str
    daily_life: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Movement:
    """A movement with its ways of doing it; `options[0]` is the standard one.

    `gentler_movement` and `stronger_movement` link to neighbours on a ladder, or are None.
    `views` overrides the figure's two views (names of `media` cameras), empty for computed ones.
    """

    id: MovementId
    name: str
    part: Part
    pattern: Pattern
    prime_movers: tuple[Muscle, ...]
    helper_muscles: tuple[Muscle, ...]
    goals: tuple[Goal, ...]
    options: tuple[Option, ...]
    teaching: Teaching
    source: str
    power: bool = False
    gentler_movement: MovementId | None = None
    stronger_movement: MovementId | None = None
    views: tuple[str, ...] = ()

    @property
    def standard(self) -> Option:
        """The way that the group is shown first."""
        return self.options[0]

    def option(self, kind: OptionKind) -> Option:
        """Return the named way; raise `NoSuchOption` where the movement lacks it."""
        for option in self.options:
            if option.kind is kind:
                return option
        raise NoSuchOption(movement=self.name, kind=kind.value)


Catalogue = Mapping[MovementId, Movement]
"""All movements in use, by identifier; iteration is in order of identifier."""
