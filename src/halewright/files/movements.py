"""Movement files: TOML with a strict shape, read into `core.catalogue.movement` values."""

import functools
import json
import tomllib
from collections.abc import Mapping
from importlib import resources
from importlib.resources.abc import Traversable
from types import MappingProxyType
from typing import Any

import msgspec

from halewright.core import units
from halewright.core.catalogue import checks, words
from halewright.core.catalogue import movement as values
from halewright.core.errors import BadInput, Problem
from halewright.core.mechanics import angles
from halewright.files import movement_shapes
from halewright.files.movement_documents import (
    SCHEMA,
    VERSION,
    DeclaredDoc,
    MovementDoc,
    OptionDoc,
    PathDoc,
    PoseDoc,
    StandardDoc,
    TeachingDoc,
    TempoDoc,
)

_BASE = values.Declared()
_UNPAIRED = ("pelvis_", "trunk_", "neck_")


def read(path: Traversable) -> values.Movement | tuple[Problem, ...]:
    """Read one movement file, or return every problem of its shape at once."""
    try:
        raw = tomllib.loads(path.read_text(encoding="utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError, OSError) as error:
        mend = "Mend this place and read the file again."
        return (Problem(file=path.name, read=str(error), mend=mend),)
    found = movement_shapes.problems(document=raw, file=path.name) or _heading(raw, path.name)
    return found or movement_of(msgspec.convert(raw, MovementDoc))


def _heading(raw: Mapping[str, Any], file: str) -> tuple[Problem, ...]:
    found = []
    if (raw["schema"], raw["version"]) != (SCHEMA, VERSION):
        read_as = f"{raw['schema']} version {raw['version']}"
        mend = f"This programme reads {SCHEMA} version {VERSION}."
        found.append(Problem(file=file, read=read_as, mend=mend))
    if f"{raw['id']}.toml" != file:
        mend = "Name the file as its id, ending in .toml."
        found.append(Problem(file=file, read=f"id: {raw['id']}", mend=mend))
    return tuple(found)


def read_folder(path: Traversable) -> tuple[values.Catalogue, tuple[Problem, ...]]:
    """Return the movements of a folder's .toml files in order of id, and all problems of shape.

    A file with problems is left out of the catalogue; what the files mean is for
    `core.catalogue.checks`.
    """
    if not path.is_dir():
        mend = "There is no such folder; name a folder of movement files."
        return MappingProxyType({}), (Problem(file=path.name, read="no folder", mend=mend),)
    found: dict[values.MovementId, values.Movement] = {}
    problems: list[Problem] = []
    for file in sorted(path.iterdir(), key=lambda entry: entry.name.removesuffix(".toml")):
        if file.name.endswith(".toml"):
            outcome = read(file)
            if isinstance(outcome, values.Movement):
                found[outcome.id] = outcome
            else:
                problems.extend(outcome)
    return MappingProxyType(found), tuple(problems)


@functools.cache
def shipped() -> values.Catalogue:
    """Return the movements that come with the programme; raise BadInput if any is broken."""
    folder = resources.files("halewright").joinpath("data", "movements")
    catalogue, problems = read_folder(folder)
    problems += checks.check(catalogue)
    if problems:
        raise BadInput(problems)
    return catalogue


def json_schema() -> str:
    """Return the JSON Schema of movement files, for editors, as text."""
    return json.dumps(msgspec.json.schema(MovementDoc), indent=2, sort_keys=True) + "\n"


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


def _standard(doc: StandardDoc) -> values.Option:
    return values.Option(
        kind=words.OptionKind.STANDARD,
        how=doc.how,
        position=doc.position,
        set_up=doc.set_up,
        support=doc.support,
        sides=doc.sides,
        tempo=_tempo(doc.tempo),
        poses=_poses(doc.poses),
        paths=_paths(doc.paths),
        declared=_declared(doc.declared, _BASE),
    )


def _derived(kind: words.OptionKind, doc: OptionDoc, standard: values.Option) -> values.Option:
    bandless = kind is words.OptionKind.WITHOUT_BAND or doc.set_up is words.SetUp.NONE
    set_up = words.SetUp.NONE if bandless else doc.set_up or standard.set_up
    paths = _paths(doc.paths) if doc.paths is not None else standard.paths
    poses = _poses(doc.poses) if doc.poses is not None else standard.poses
    position = doc.position or standard.position
    return values.Option(
        kind=kind,
        how=doc.how,
        position=position,
        set_up=set_up,
        support=doc.support or standard.support,
        sides=doc.sides or standard.sides,
        tempo=_tempo(doc.tempo) if doc.tempo else standard.tempo,
        poses=_scaled(
            poses=poses, range_share=doc.range_share, base_rad=angles.BASES_RAD[position]
        ),
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
    *, poses: tuple[values.Pose, ...], range_share: float, base_rad: Mapping[str, float]
) -> tuple[values.Pose, ...]:
    """Bring every pose nearer the first; an angle that a pose leaves out is the position's own."""
    if range_share == 1.0 or not poses:
        return poses
    first_rad = {**base_rad, **poses[0].angles_rad}
    return tuple(
        values.Pose(
            phase_ratio=pose.phase_ratio,
            angles_rad={
                name: first_rad.get(name, 0.0)
                + range_share
                * (pose.angles_rad.get(name, base_rad.get(name, 0.0)) - first_rad.get(name, 0.0))
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
