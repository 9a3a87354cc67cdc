"""The sixteen segments of one body, scaled from stature, mass and sex.

Axes of every segment: x forward, y to the left, z up, in upright standing with the arms hanging.
A segment's origin is its joint towards the pelvis; the lower trunk is the root and its origin is
the midpoint of the hip joints. Trunk segments and the head extend along +z from their origin, arm
and leg segments along -z, feet along +x.
"""

import functools
from collections.abc import Mapping
from dataclasses import dataclass

from halewright.core.errors import HalewrightError
from halewright.core.mechanics import segment_table
from halewright.core.mechanics.segment_table import Row, Table
from halewright.core.people.person import Sex

Vector = tuple[float, float, float]

TRUNK_AND_HEAD = ("lower_trunk", "middle_trunk", "upper_trunk", "head")
ARM = ("upper_arm", "forearm", "hand")
LEG = ("thigh", "shank", "foot")
SEGMENTS = TRUNK_AND_HEAD + tuple(
    f"{segment}_{side}" for side in ("left", "right") for segment in ARM + LEG
)
"""In the order of the chain: every parent comes before its children."""

_PARENTS = {
    "middle_trunk": "lower_trunk",
    "upper_trunk": "middle_trunk",
    "head": "upper_trunk",
    "upper_arm": "upper_trunk",
    "forearm": "upper_arm",
    "hand": "forearm",
    "thigh": "lower_trunk",
    "shank": "thigh",
    "foot": "shank",
}


def _parent_of(name: str) -> str | None:
    plain = name.removesuffix("_left").removesuffix("_right")
    parent = _PARENTS.get(plain)
    if parent is None or parent in TRUNK_AND_HEAD:
        return parent
    return f"{parent}{name.removeprefix(plain)}"


PARENTS: Mapping[str, str | None] = {name: _parent_of(name) for name in SEGMENTS}
"""Every segment's parent, with its side; None for the lower trunk."""

THIGH_RADIUS_M = 0.075
"""At 1.62 m and 68 kg (a girth of 47 cm): common practice; scaled by the root of mass/stature."""
SHANK_RADIUS_M = 0.040
"""Above the ankle, at 1.62 m and 68 kg: common practice, scaled the same way."""
CALF_RADIUS_M = 0.055
"""At the thickest part of the calf, at 1.62 m and 68 kg: common practice, scaled the same way."""
TRUNK_RADIUS_M = 0.115
"""From the spine's line to the back or chest, at 1.62 m and 68 kg: common practice, as above."""
SHOE_SOLE_M = 0.020
"""Thickness of an indoor shoe's sole: common practice."""


class NoSuchMeasure(HalewrightError):
    """A body measure that this model does not have."""

    def __init__(self, measure: str) -> None:
        """Name the measure and those that there are."""
        super().__init__(
            f"The body has no measure “{measure}”. It has: {', '.join(sorted(MEASURES))}."
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Segment:
    """A rigid part of the body, in its own axes.

    `joint_m` is the segment's origin in its parent's axes, `centre_m` the centre of mass and
    `gyration_m` the radii of gyration about the x, y and z axes through it.
    """

    name: str
    parent: str | None
    joint_m: Vector
    length_m: float
    mass_kg: float
    centre_m: Vector
    gyration_m: Vector


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """A person as the mechanics sees one; build it with `body`, never by hand."""

    stature_m: float
    mass_kg: float
    sex: Sex
    segments: tuple[Segment, ...]
    half_shoulder_m: float
    half_hip_m: float
    shoulder_height_m: float
    """Of the shoulder joints above the root, in upright posture."""
    grip_m: float
    """From the wrist to the middle knuckle, where the band is held."""
    ankle_height_m: float
    """Of the ankle joint above the bare sole."""
    sole_m: float
    thigh_radius_m: float
    shank_radius_m: float
    calf_radius_m: float
    trunk_radius_m: float

    def segment(self, name: str) -> Segment:
        """Return one segment by its name, such as `thigh_left`."""
        return self.segments[SEGMENTS.index(name)]

    def length_m(self, name: str) -> float:
        """Return a segment's length by its plain name, such as `thigh`."""
        return self.segment(name if name in TRUNK_AND_HEAD else f"{name}_left").length_m

    @property
    def hip_height_m(self) -> float:
        """Height of the hips above the floor when seated with upright shanks and level thighs."""
        return self.length_m("shank") + self.ankle_height_m + self.sole_m


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rows:
    """One sex's rows and lengths as shares of stature, or the mean of both sexes'."""

    rows: Mapping[str, Row]
    lengths_ratio: Mapping[str, float]
    shoulder_ratio: float
    knuckle_ratio: float


MEASURES = frozenset(
    {f"{name}_length_m" for name in ("upper_arm", "forearm", "hand", "thigh", "shank", "foot")}
    | {"half_shoulder_m", "half_hip_m", "sole_m", "thigh_radius_m", "shank_radius_m"}
    | {"calf_radius_m", "trunk_radius_m"}
)
"""What a leader may measure on a person in place of the table's value."""


def body(
    *, stature_m: float, mass_kg: float, sex: Sex, overrides: Mapping[str, float] | None = None
) -> Body:
    """Return the body of these proportions; `overrides` are measured lengths from `MEASURES`.

    Where sex is not stated the table is the mean of both. Raises NoSuchMeasure for an override
    that the model does not have, ValueError for a stature or mass that is not positive.
    Source: `segment_table`; mass shares are divided by their sum so that the masses add up.
    """
    given = _known(overrides or {}, stature_m=stature_m, mass_kg=mass_kg)
    table = _rows(sex)
    lengths_m = {name: ratio * stature_m for name, ratio in table.lengths_ratio.items()}
    lengths_m = {name: given.get(f"{name}_length_m", long_m) for name, long_m in lengths_m.items()}
    spans_m = _spans_m(stature_m=stature_m, mass_kg=mass_kg)
    spans_m = {name: given.get(name, span_m) for name, span_m in spans_m.items()}
    ankle_m = segment_table.ANKLE_HEIGHT_RATIO * stature_m
    shoulder_m = table.shoulder_ratio * stature_m
    joints_m = _joints(lengths_m=lengths_m, spans_m=spans_m, shoulder_m=shoulder_m)
    masses_kg = _masses_kg(table=table, mass_kg=mass_kg)
    segments = tuple(
        _segment(
            name=name,
            row=table.rows[plain],
            length_m=lengths_m[plain],
            joint_m=joints_m[name],
            mass_kg=masses_kg[plain],
            ankle_height_m=ankle_m,
        )
        for name, plain in zip(SEGMENTS, map(_plain, SEGMENTS), strict=True)
    )
    return Body(
        stature_m=stature_m,
        mass_kg=mass_kg,
        sex=sex,
        segments=segments,
        shoulder_height_m=shoulder_m,
        grip_m=table.knuckle_ratio * stature_m,
        ankle_height_m=ankle_m,
        **spans_m,
    )


def _known(
    overrides: Mapping[str, float], *, stature_m: float, mass_kg: float
) -> Mapping[str, float]:
    """Return the overrides once everything told about the person makes sense."""
    if stature_m <= 0.0 or mass_kg <= 0.0:
        raise ValueError(f"stature {stature_m} m and mass {mass_kg} kg must be positive")
    for name in overrides:
        if name not in MEASURES:
            raise NoSuchMeasure(name)
    return overrides


def _spans_m(*, stature_m: float, mass_kg: float) -> dict[str, float]:
    """Return widths and radii; a limb of given length widens with the root of its mass."""
    girth_ratio = ((mass_kg / stature_m) / (68.0 / 1.62)) ** 0.5
    return {
        "half_shoulder_m": segment_table.HALF_SHOULDER_RATIO * stature_m,
        "half_hip_m": segment_table.HALF_HIP_RATIO * stature_m,
        "sole_m": SHOE_SOLE_M,
        "thigh_radius_m": THIGH_RADIUS_M * girth_ratio,
        "shank_radius_m": SHANK_RADIUS_M * girth_ratio,
        "calf_radius_m": CALF_RADIUS_M * girth_ratio,
        "trunk_radius_m": TRUNK_RADIUS_M * girth_ratio,
    }


def _masses_kg(*, table: _Rows, mass_kg: float) -> dict[str, float]:
    """Return one segment's mass by plain name, shared so that all sixteen add up."""
    whole = sum(_count(name) * row.mass_share for name, row in table.rows.items())
    return {name: row.mass_share / whole * mass_kg for name, row in table.rows.items()}


def _plain(name: str) -> str:
    return name.removesuffix("_left").removesuffix("_right")


def _count(plain: str) -> int:
    return 1 if plain in TRUNK_AND_HEAD else 2


@functools.cache
def _rows(sex: Sex) -> _Rows:
    tables = {
        Sex.FEMALE: (segment_table.FEMALE,),
        Sex.MALE: (segment_table.MALE,),
        Sex.NOT_STATED: (segment_table.FEMALE, segment_table.MALE),
    }[sex]
    names = segment_table.FEMALE.rows
    return _Rows(
        rows={name: _mean_row(tuple(table.rows[name] for table in tables)) for name in names},
        lengths_ratio={
            name: _mean(tuple(table.rows[name].length_mm / table.stature_mm for table in tables))
            for name in names
        },
        shoulder_ratio=_share(tables, "shoulder_to_hip_mm"),
        knuckle_ratio=_share(tables, "knuckle_mm"),
    )


def _share(tables: tuple[Table, ...], name: str) -> float:
    return _mean(tuple(float(getattr(table, name)) / table.stature_mm for table in tables))


def _mean(values: tuple[float, ...]) -> float:
    return sum(values) / len(values)


def _mean_row(rows: tuple[Row, ...]) -> Row:
    first, second, third = (_mean(tuple(row.radius_ratios[k] for row in rows)) for k in range(3))
    return Row(
        endpoints=rows[0].endpoints,
        mass_share=_mean(tuple(row.mass_share for row in rows)),
        length_mm=_mean(tuple(row.length_mm for row in rows)),
        centre_ratio=_mean(tuple(row.centre_ratio for row in rows)),
        radius_ratios=(first, second, third),
    )


def _joints(
    *, lengths_m: Mapping[str, float], spans_m: Mapping[str, float], shoulder_m: float
) -> dict[str, Vector]:
    """Place every segment's origin in its parent's axes."""
    below_m = lengths_m["lower_trunk"] + lengths_m["middle_trunk"]
    joints_m: dict[str, Vector] = {
        "lower_trunk": (0.0, 0.0, 0.0),
        "middle_trunk": (0.0, 0.0, lengths_m["lower_trunk"]),
        "upper_trunk": (0.0, 0.0, lengths_m["middle_trunk"]),
        "head": (0.0, 0.0, lengths_m["upper_trunk"]),
    }
    for side, sign in (("left", 1.0), ("right", -1.0)):
        joints_m[f"upper_arm_{side}"] = (
            0.0,
            sign * spans_m["half_shoulder_m"],
            shoulder_m - below_m,
        )
        joints_m[f"thigh_{side}"] = (0.0, sign * spans_m["half_hip_m"], 0.0)
        for near, far in (("upper_arm", "forearm"), ("forearm", "hand"), ("thigh", "shank")):
            joints_m[f"{far}_{side}"] = (0.0, 0.0, -lengths_m[near])
        joints_m[f"foot_{side}"] = (0.0, 0.0, -lengths_m["shank"])
    return joints_m


def _segment(
    *, name: str, row: Row, length_m: float, joint_m: Vector, mass_kg: float, ankle_height_m: float
) -> Segment:
    """Put the centre of mass where the table does, counted from the table's first-named end."""
    plain = _plain(name)
    sagittal_m, transverse_m, longitudinal_m = (ratio * length_m for ratio in row.radius_ratios)
    gyration_m = (sagittal_m, transverse_m, longitudinal_m)
    if plain in TRUNK_AND_HEAD:
        # The first-named end is the cranial one; our origin is the caudal one.
        centre_m = (0.0, 0.0, (1.0 - row.centre_ratio) * length_m)
    elif plain == "foot":
        forward_m = (row.centre_ratio - segment_table.HEEL_BEHIND_ANKLE_RATIO) * length_m
        # Half way between ankle and sole, from memory; the table gives the length's way only.
        centre_m = (forward_m, 0.0, -0.5 * ankle_height_m)
        gyration_m = (longitudinal_m, transverse_m, sagittal_m)
    else:
        centre_m = (0.0, 0.0, -row.centre_ratio * length_m)
    return Segment(
        name=name,
        parent=PARENTS[name],
        joint_m=joint_m,
        length_m=length_m,
        mass_kg=mass_kg,
        centre_m=centre_m,
        gyration_m=gyration_m,
    )


REFERENCE_BODY = body(stature_m=1.62, mass_kg=68.0, sex=Sex.FEMALE)
"""The woman on whom demands and pictures are computed when no person is meant."""
