"""Movement files: TOML with a strict shape, to and from `core.catalogue.movement` values."""

import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import msgspec

from halewright.core import units
from halewright.core.catalogue import movement as values
from halewright.core.catalogue import words
from halewright.core.errors import Problem
from halewright.core.mechanics import angles

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

    kind: values.NodeKind
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


class OptionDoc(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One way; a field left out is the standard way's. `range_share` scales the movement."""

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
    standard: OptionDoc
    gentler: OptionDoc | None = None
    stronger: OptionDoc | None = None
    without_band: OptionDoc | None = None
    power: bool = False
    gentler_movement: str | None = None
    stronger_movement: str | None = None
    views: list[str] = []


_BASE = values.Declared()
_UNPAIRED = ("pelvis_", "trunk_", "neck_")


def read(path: Path) -> values.Movement | Problem:
    """Read one movement file; a Problem says what does not fit and where."""
    try:
        document = msgspec.convert(tomllib.loads(path.read_text("utf-8")), MovementDoc)
    except (tomllib.TOMLDecodeError, msgspec.ValidationError, UnicodeDecodeError) as error:
        return Problem(file=path.name, read=str(error), mend="Mend this and read the file again.")
    if document.schema != SCHEMA or document.version != VERSION:
        return Problem(
            file=path.name,
            read=f"{document.schema} version {document.version}",
            mend=f"This programme reads {SCHEMA} version {VERSION}.",
        )
    if document.id != path.stem:
        return Problem(
            file=path.name, read=document.id, mend="Name the file as its id, ending in .toml."
        )
    return movement_of(document)


def movement_of(document: MovementDoc) -> values.Movement:
    """Return the value that a document describes, with every option made whole."""
    standard = _standard(document.standard)
    kinds = words.OptionKind
    others = (
        (kinds.GENTLER, document.gentler),
        (kinds.STRONGER, document.stronger),
        (kinds.WITHOUT_BAND, document.without_band),
    )
    options = [standard, *(_derived(kind, doc, standard) for kind, doc in others if doc)]
    return values.Movement(
        id=values.MovementId(document.id),
        name=document.name,
        part=document.part,
        pattern=document.pattern,
        prime_movers=tuple(document.prime_movers),
        helper_muscles=tuple(document.helper_muscles),
        goals=tuple(document.goals),
        options=tuple(options),
        teaching=_teaching(document.teaching),
        source=document.source,
        power=document.power,
        gentler_movement=_link(document.gentler_movement),
        stronger_movement=_link(document.stronger_movement),
        views=tuple(document.views),
    )


def _link(identifier: str | None) -> values.MovementId | None:
    return None if identifier is None else values.MovementId(identifier)


def _teaching(doc: TeachingDoc) -> values.Teaching:
    return values.Teaching(
        start=doc.start,
        set_up=doc.set_up,
        points=tuple(doc.points),
        breath=doc.breath,
        faults=tuple(doc.faults),
        safety=doc.safety,
        daily_life=doc.daily_life,
    )


def _standard(doc: OptionDoc) -> values.Option:
    missing = [
        name
        for name in ("position", "set_up", "support", "sides", "tempo", "poses")
        if getattr(doc, name) is None
    ]
    if missing:
        raise msgspec.ValidationError(f"the standard option lacks {', '.join(missing)}")
    assert doc.position  # noqa: S101  narrowed above, for the type checker
    assert doc.set_up  # noqa: S101  as above
    assert doc.support  # noqa: S101  as above
    assert doc.sides  # noqa: S101  as above
    assert doc.tempo  # noqa: S101  as above
    return values.Option(
        kind=words.OptionKind.STANDARD,
        how=doc.how,
        position=doc.position,
        set_up=doc.set_up,
        support=doc.support,
        sides=doc.sides,
        tempo=_tempo(doc.tempo),
        poses=_poses(doc.poses or []),
        paths=_paths(doc.paths or []),
        declared=_declared(doc.declared, _BASE),
    )


def _derived(kind: words.OptionKind, doc: OptionDoc, standard: values.Option) -> values.Option:
    bandless = kind is words.OptionKind.WITHOUT_BAND or doc.set_up is words.SetUp.NONE
    set_up = words.SetUp.NONE if bandless else doc.set_up or standard.set_up
    paths = _paths(doc.paths) if doc.paths is not None else standard.paths
    poses = _poses(doc.poses) if doc.poses is not None else standard.poses
    return values.Option(
        kind=kind,
        how=doc.how,
        position=doc.position or standard.position,
        set_up=set_up,
        support=doc.support or standard.support,
        sides=doc.sides or standard.sides,
        tempo=_tempo(doc.tempo) if doc.tempo else standard.tempo,
        poses=_scaled(poses, doc.range_share, doc.position or standard.position),
        paths=() if set_up is words.SetUp.NONE else paths,
        declared=_declared(doc.declared, standard.declared),
    )


def _tempo(doc: TempoDoc) -> values.Tempo:
    return values.Tempo(out_s=doc.out_s, hold_s=doc.hold_s, back_s=doc.back_s, pause_s=doc.pause_s)


def _poses(docs: list[PoseDoc]) -> tuple[values.Pose, ...]:
    return tuple(
        values.Pose(phase_ratio=doc.phase, angles_rad=_both_sides(doc.angles_deg)) for doc in docs
    )


def _both_sides(angles_deg: Mapping[str, float]) -> dict[str, float]:
    """Spell a paired joint's plain name out as left and right; a sided name wins over it."""
    spelt: dict[str, float] = {}
    for name, angle_deg in angles_deg.items():
        if not name.endswith(("_left", "_right")):
            sides = [""] if name.startswith(_UNPAIRED) else ["_left", "_right"]
            spelt.update({name + side: units.radians(angle_deg) for side in sides})
    for name, angle_deg in angles_deg.items():
        if name.endswith(("_left", "_right")):
            spelt[name] = units.radians(angle_deg)
    return spelt


def _scaled(
    poses: tuple[values.Pose, ...], range_share: float, position: words.Position
) -> tuple[values.Pose, ...]:
    """Shorten the way from the first pose; an angle left out is the position's own."""
    if range_share == 1.0 or not poses:
        return poses
    base = angles.BASES_RAD[position]
    first = {**base, **poses[0].angles_rad}
    return tuple(
        values.Pose(
            phase_ratio=pose.phase_ratio,
            angles_rad={
                name: first.get(name, 0.0)
                + range_share
                * (pose.angles_rad.get(name, base.get(name, 0.0)) - first.get(name, 0.0))
                for name in {**poses[0].angles_rad, **pose.angles_rad}
            },
        )
        for pose in poses
    )


def _paths(docs: list[PathDoc]) -> tuple[values.BandPath, ...]:
    return tuple(
        values.BandPath(
            nodes=tuple(
                values.PathNode(kind=node.kind, at=node.at, friction_ratio=node.friction_ratio)
                for node in doc.nodes
            ),
            closed=doc.closed,
            strands=doc.strands,
        )
        for doc in docs
    )


def _declared(doc: DeclaredDoc | None, base: values.Declared) -> values.Declared:
    given: dict[str, Any] = {} if doc is None else msgspec.to_builtins(doc)
    told = {name: value for name, value in given.items() if value is not None}
    return values.Declared(**{**msgspec.to_builtins(base), **told})
