"""The band: a strip along its way, hidden where a limb is truly in front of it."""

import itertools
import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry.base import BaseGeometry

from halewright.core.catalogue.movement import BandPath
from halewright.media import figure_course, figure_parts, figure_person, outline, palette
from halewright.media.camera import SCALE, Array
from halewright.media.figure_course import WIDTH_M, Course
from halewright.media.figure_parts import Coat, Part, Sketch

_EDGE_PX = 1.5
_LEAST_AREA = 140.0
"""Pieces that show less, in square picture units, would read as specks."""
_PIECE_M = 0.035
_LONG_M = 0.20
"""A straight step longer than this passes a limb on one side for its whole way."""
_SOLE_SEEN = 0.15
"""A sole that faces the eye less than this hides what is under it."""

_Truths = npt.NDArray[np.bool_]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Marks:
    """A course cut into pieces short enough to judge each by its middle; (3, K) and K - 1."""

    at_m: Array
    half_m: Array | None
    steps: npt.NDArray[np.int_]

    @property
    def middles_m(self) -> Array:
        """Return the middle of each piece."""
        return 0.5 * (self.at_m[:, 1:] + self.at_m[:, :-1])


def parts(sketch: Sketch, *, paths: tuple[BandPath, ...], person: list[Part]) -> list[Part]:
    """Return the band's parts, drawn after the person, less what the person hides."""
    found = []
    for number, path in enumerate(paths):
        shapes = []
        from_behind = any(node.at.startswith("upper_back") for node in path.nodes)
        for course in figure_course.courses(sketch, path):
            # A free end comes out of its own hand, whose rim must not cut it off.
            own = (f"forearm {course.hand}", f"hand {course.hand}")
            others = [part for part in person if part.name not in own]
            shapes += _seen(sketch, course=course, from_behind=from_behind, person=others)
        if shapes:
            shape = outline.merged(shapes)
            found.append(
                Part(
                    name=f"band {number}",
                    depth_m=math.inf,
                    coats=(
                        Coat(outline.widen(shape, _EDGE_PX + 1.4), palette.GROUND),
                        Coat(outline.widen(shape, _EDGE_PX), palette.BAND_EDGE),
                        Coat(shape, palette.BAND),
                    ),
                )
            )
    return found


def _seen(
    sketch: Sketch, *, course: Course, from_behind: bool, person: list[Part]
) -> list[BaseGeometry]:
    """Return what is seen of a course: runs of it, each less the parts that are nearer there."""
    marks = _marks(course)
    middles = marks.middles_m
    long_steps = _long_steps(course)
    hidden = []
    for part in person:
        covered = _covered(sketch, part=part, at=middles, from_behind=from_behind)
        if covered is not None:
            over, behind = covered
            _by_step(over=over, behind=behind, steps=marks.steps, long_steps=long_steps)
            if behind.any():
                hidden.append((part, behind))
    dropped = [_is_under(sketch, what=course.under[step]) for step in marks.steps]
    keys = [
        None if dropped[k] else tuple(bool(behind[k]) for _, behind in hidden)
        for k in range(middles.shape[1])
    ]
    pieces: list[BaseGeometry] = []
    for key, run in itertools.groupby(range(len(keys)), key=lambda k: keys[k]):
        numbers = list(run)
        if key is None:
            continue
        strip = _strip(sketch, marks=marks, first=numbers[0], last=numbers[-1] + 1)
        for (part, _), is_over in zip(hidden, key, strict=True):
            if is_over:
                strip = strip.difference(part.silhouette)
        if any(key):
            strip = outline.soften(strip, 1.8)
        if strip.area > _LEAST_AREA:
            pieces.append(strip)
    return pieces


def _marks(course: Course) -> _Marks:
    """Return the course with points close enough to judge each piece by its middle."""
    at, half, steps = [course.corners_m[:, :1]], [], []
    if course.half_m is not None:
        half.append(course.half_m[:, :1])
    for step, (a, b) in enumerate(itertools.pairwise(course.corners_m.T)):
        count = max(1, math.ceil(float(np.linalg.norm(b - a)) / _PIECE_M))
        shares = np.arange(1, count + 1) / count
        at.append(a[:, None] + (b - a)[:, None] * shares)
        steps += [step] * count
        if course.half_m is not None:
            c, d = course.half_m[:, step], course.half_m[:, step + 1]
            half.append(c[:, None] + (d - c)[:, None] * shares)
    return _Marks(
        at_m=np.concatenate(at, axis=1),
        half_m=np.concatenate(half, axis=1) if half else None,
        steps=np.array(steps, dtype=np.int_),
    )


def _long_steps(course: Course) -> frozenset[int]:
    lengths_m = np.linalg.norm(np.diff(course.corners_m, axis=1), axis=0)
    return frozenset(np.flatnonzero(lengths_m > _LONG_M).tolist())


def _by_step(
    *, over: _Truths, behind: _Truths, steps: npt.NDArray[np.int_], long_steps: frozenset[int]
) -> None:
    """Let a long straight step count as before or behind a part as most of it is, in place."""
    for step in long_steps:
        own = steps == step
        overlapped = over & own
        if overlapped.any():
            behind[own] = bool(behind[overlapped].mean() >= 0.5)


def _strip(sketch: Sketch, *, marks: _Marks, first: int, last: int) -> BaseGeometry:
    """Return a run of the band: a ribbon in the air, or flat on the limbs that it lies on."""
    at = marks.at_m[:, first : last + 1]
    if marks.half_m is None:
        return outline.ribbon(sketch.camera.flat(at), WIDTH_M * SCALE)
    half = marks.half_m[:, first : last + 1]
    upper, lower = sketch.camera.flat(at + half).T, sketch.camera.flat(at - half).T
    quads = np.stack([upper[:-1], upper[1:], lower[1:], lower[:-1]], axis=1)
    # A strip seen edge on has no area of its own; a hair's width keeps the loop closed.
    flats = [shapely.convex_hull(shapely.multipoints(quad)) for quad in quads]
    return outline.widen(outline.merged(flats), 0.8)


def _is_under(sketch: Sketch, *, what: str) -> bool:
    """Return whether a piece runs between thigh and seat, or under a sole that is not seen."""
    if not what.startswith("foot"):
        return bool(what)
    return sketch.facing(what, 0.0, 0.0, -1.0) < _SOLE_SEEN


def _covered(
    sketch: Sketch, *, part: Part, at: Array, from_behind: bool
) -> tuple[_Truths, _Truths] | None:
    """Return at which places (3, K) a part's limbs overlap the band, and are in front of it.

    None where they do not meet. A band from behind the back runs under the nearer arm.
    """
    if not part.limbs:
        return None
    over, behind = figure_parts.covers(
        sketch.camera, limbs=part.limbs, at_m=at, margin_m=0.5 * WIDTH_M
    )
    if not over.any():
        return None
    near = figure_person.nearer_side(sketch)
    if from_behind and part.name in (f"upper arm {near}", f"forearm {near}"):
        behind = over.copy()
    return over, behind
