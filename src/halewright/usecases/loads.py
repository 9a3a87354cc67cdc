"""Newtons for a group: what each band asks of each person in each way of doing a movement."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache, partial
from pathlib import Path

import numpy as np

from halewright.core.catalogue.movement import Catalogue, Movement, MovementId
from halewright.core.errors import BadInput, HalewrightError, UnknownMovement
from halewright.core.mechanics import geometry as geometries
from halewright.core.mechanics import grips, kit_use, loads, readings, rubber, skeleton
from halewright.core.mechanics.geometry import Geometry
from halewright.core.mechanics.loads import Code, Load, NoLoad
from halewright.core.mechanics.readings import Flag
from halewright.core.mechanics.rubber import Estimate
from halewright.core.mechanics.skeleton import Body
from halewright.core.people.group import Group
from halewright.core.people.kit import Band, BandLabel, MeasuredPoint, Shape
from halewright.core.people.person import Person, PersonId
from halewright.core.screening import locally
from halewright.files import band_points, movements, records

STRETCH_LIMIT = "band_stretch_limit"
"""The local rule that sets the greatest stretch, as a ratio over slack length."""
_SEED = 20_260_101
"""Fixed, so that the same readings always give the same interval."""
_MASS_KG_PER_M2 = 26.0
"""Body mass over stature squared where nobody told the mass: common practice. Mass sets the
weight's moments and the girths, never a tension."""


class NoSuchPerson(HalewrightError):
    """A person whom the group does not have."""

    def __init__(self, person: str) -> None:
        """Name the person."""
        super().__init__(f"The group has nobody with the identifier “{person}”.")


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One person, one way of doing the movement, one band; `load` says what comes of it.

    `codes` are the load's own, and what stands in the way: a stature that nobody told, a band
    that was not measured, a mass that was assumed, a band too short.
    """

    person: PersonId
    movement: MovementId
    option: str
    band: BandLabel
    load: Load | NoLoad | None
    codes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class How:
    """How the bands are to be gripped; all None: just taut at the start, within the limits."""

    grip_length_m: float | None = None
    target_tension_n: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class FittedBand:
    """A band's law with its doubts. `interval_n` is of the force at twice the slack length.

    All force is of one strand. None where the band was not measured so far.
    """

    estimate: Estimate
    rms_n: float
    force_at_double_n: float | None
    interval_n: tuple[float, float] | None
    loss_ratio: float | None
    flags: tuple[Flag, ...] = field(default_factory=tuple)


def for_group(
    *,
    group: Group,
    movement: str,
    person: str | None = None,
    how: How | None = None,
    catalogue: Catalogue | None = None,
) -> tuple[Row, ...]:
    """Return a row for every person, every option with a band and every band that suits it.

    Retired bands are left out. Raises UnknownMovement and NoSuchPerson.
    """
    known = movements.shipped() if catalogue is None else catalogue
    if MovementId(movement) not in known:
        raise UnknownMovement(movement)
    people = [each for each in group.people if person in (None, each.id)]
    if person is not None and not people:
        raise NoSuchPerson(person)
    bands = [band for band in group.bands if not _is_retired(band, group=group)]
    wanted = how or How()
    limit = stretch_limit_ratio(group)
    return tuple(
        row
        for each in people
        for row in _rows(
            person=each,
            movement=known[MovementId(movement)],
            bands=bands,
            how=wanted,
            limit_ratio=limit,
        )
    )


def stretch_limit_ratio(group: Group) -> float:
    """Return the greatest stretch that may be used: the shipped one, or a lower local rule.

    Published pages disagree (3 and 4 times the slack length); the lower is shipped and a rule can
    only lower it further.
    """
    local = locally.in_force(group.local_rules).get(STRETCH_LIMIT)
    if local is None or local.at_most is None or local.off or local.at_most <= 1.0:
        return loads.LIMIT_RATIO
    return min(local.at_most, loads.LIMIT_RATIO)


def body_of(person: Person) -> Body | None:
    """Return a person's body, None where their stature is not known."""
    if person.stature_m is None:
        return None
    mass_kg = person.mass_kg or _MASS_KG_PER_M2 * person.stature_m**2
    return skeleton.body(stature_m=person.stature_m, mass_kg=mass_kg, sex=person.sex)


def law_of(band: Band, *, limit_ratio: float = loads.LIMIT_RATIO) -> Estimate | None:
    """Return a band's law with its uncertainty, None where too little was measured.

    Readings beyond the stretch limit are refused; a local rule below the shipped limit narrows
    how far a band is used, not what its readings say.
    """
    return _law(
        points=band.points,
        strands=kit_use.strands_read(band),
        limit_ratio=max(limit_ratio, loads.LIMIT_RATIO),
    )


@lru_cache(maxsize=512)
def _law(*, points: tuple[MeasuredPoint, ...], strands: int, limit_ratio: float) -> Estimate | None:
    chance = np.random.default_rng(_SEED)  # noqa: TID251  the edge owns chance; the seed is fixed
    try:
        return rubber.estimate(points, chance=chance, strands=strands, limit_ratio=limit_ratio)
    except rubber.TooFewReadings:
        return None


def fit(
    points: tuple[MeasuredPoint, ...],
    *,
    shape: Shape = Shape.STRIP,
    limit_ratio: float = loads.LIMIT_RATIO,
) -> FittedBand:
    """Return a band's law and every doubt about its readings; raises TooFewReadings.

    A loop's readings are of both strands, between two hooks; its law is of one.
    """
    strands = 2 if shape is Shape.LOOP else 1
    flags = readings.check(points, limit_ratio=limit_ratio, strands=strands)
    found = _law(points=points, strands=strands, limit_ratio=limit_ratio)
    if found is None:
        raise rubber.TooFewReadings(count=len(points))
    double = np.array([2.0])
    told = found.curve.most_ratio >= 2.0
    ends = rubber.interval_n(found, stretch_ratios=double) if told else None
    return FittedBand(
        estimate=found,
        rms_n=rubber.rms_n(found.curve, points=points, strands=strands),
        force_at_double_n=(
            float(rubber.tension_n(found.curve, stretch_ratios=double)[0]) if told else None
        ),
        interval_n=None if ends is None else (float(ends[0][0]), float(ends[1][0])),
        loss_ratio=rubber.loss_ratio(found),
        flags=flags,
    )


def read_points(path: Path) -> tuple[MeasuredPoint, ...]:
    """Return the readings of a points file; raises BadInput with every problem."""
    findings = records.Findings()
    points = band_points.read_alone(path, file=path.name, findings=findings)
    if findings.problems:
        raise BadInput(tuple(findings.problems))
    return points


def _is_retired(band: Band, *, group: Group) -> bool:
    return band.retired_on is not None and band.retired_on <= group.schedule.starts_on


def _rows(
    *,
    person: Person,
    movement: Movement,
    bands: list[Band],
    how: How,
    limit_ratio: float,
) -> Iterator[Row]:
    body = body_of(person)
    assumed = () if person.mass_kg else ("mass_assumed",)
    for option in movement.options:
        fitting = [band for band in bands if kit_use.takes(option, shape=band.shape)]
        if not fitting:
            continue
        shape = None if body is None else geometries.of(body=body, option=option)
        for band in fitting:
            law = law_of(band, limit_ratio=limit_ratio)
            row = partial(
                Row,
                person=person.id,
                movement=movement.id,
                option=option.kind.value,
                band=band.label,
            )
            if shape is None or law is None:
                lacking = ("stature_not_known",) if shape is None else ()
                yield row(load=None, codes=lacking if law else (*lacking, "not_measured"))
                continue
            grip = _grip(how=how, band=band, geometry=shape, law=law, limit_ratio=limit_ratio)
            load = loads.given(
                geometry=shape,
                law=law,
                limit_ratio=limit_ratio,
                grip_length_m=grip.grip_length_m,
                target_tension_n=grip.target_tension_n,
            )
            codes = [code.value for code in load.codes]
            if isinstance(load, Load) and not kit_use.is_long_enough(load, band=band):
                codes.append(Code.TOO_SHORT.value)
            yield row(load=load, codes=(*codes, *assumed))


def _grip(*, how: How, band: Band, geometry: Geometry, law: Estimate, limit_ratio: float) -> How:
    """Return how this band is held: a loop as long as it is, a strip as asked or just taut."""
    if band.shape is Shape.LOOP and band.length_m is not None:
        return How(grip_length_m=band.length_m)
    if how.grip_length_m is not None or how.target_tension_n is not None:
        return how
    snug_m = grips.snug_m(geometry=geometry, law=law, limit_ratio=limit_ratio)
    return How(grip_length_m=snug_m)


def as_document(row: Row) -> dict[str, object]:
    """Return a row as the documented JSON object, nothing rounded, null where not known."""
    load = row.load if isinstance(row.load, Load) else None
    moments: dict[str, object] = {}
    if load is not None:
        for axis, joint in load.joints.items():
            net, band = joint.net, joint.band
            if any(abs(peak) > 1e-6 for peak in (net.peak_nm or 0.0, band.peak_nm or 0.0)):
                moments[axis] = {
                    "peak": net.peak_nm,
                    "phase": net.phase_ratio,
                    "band_peak": band.peak_nm,
                    "band_phase": band.phase_ratio,
                }
    return {
        "person": row.person,
        "movement": row.movement,
        "option": row.option,
        "band": row.band,
        "strands": None if load is None else load.strands,
        "grip_length_m": None if load is None else load.grip_length_m,
        "tension_start_n": None if load is None else load.tension_start_n,
        "tension_peak_n": None if load is None else load.tension_peak_n,
        "tension_interval_n": None if load is None else load.tension_interval_n,
        "stretch_start_ratio": None if load is None else load.stretch_start_ratio,
        "stretch_end_ratio": None if load is None else load.stretch_end_ratio,
        "peak_phase": None if load is None else load.peak_phase_ratio,
        "joint_moments_nm": moments,
        "work_j": None if load is None else load.work_j,
        "codes": list(row.codes),
    }


def doubts(
    points: tuple[MeasuredPoint, ...],
    *,
    shape: Shape = Shape.STRIP,
    limit_ratio: float = loads.LIMIT_RATIO,
) -> tuple[Flag, ...]:
    """Return every doubt about some readings, also where they are too few for a curve."""
    strands = 2 if shape is Shape.LOOP else 1
    return readings.check(points, limit_ratio=limit_ratio, strands=strands)


def unfit_as_document(flags: tuple[Flag, ...]) -> dict[str, object]:
    """Return the documented JSON object for readings that make no curve: only doubts."""
    names = ("a_n", "b_n", "c_n", "rms_n", "range_ratio", "force_at_double_n", "interval_n")
    return {
        **dict.fromkeys(names),
        "flags": [flag.kind.value for flag in flags],
        "loss_ratio": None,
    }


def fit_as_document(found: FittedBand) -> dict[str, object]:
    """Return a fitted band as the documented JSON object, nothing rounded."""
    curve = found.estimate.curve
    return {
        "a_n": curve.linear_n,
        "b_n": curve.softening_n,
        "c_n": curve.stiffening_n,
        "rms_n": found.rms_n,
        "range_ratio": curve.most_ratio,
        "force_at_double_n": found.force_at_double_n,
        "interval_n": found.interval_n,
        "flags": [flag.kind.value for flag in found.flags],
        "loss_ratio": found.loss_ratio,
    }
