"""The band: a strip along its true way, hidden where a limb is truly in front of it."""

import itertools
import math
from enum import Enum

import numpy as np
import numpy.typing as npt
from shapely.geometry.base import BaseGeometry

from halewright.core.catalogue.movement import BandPath, NodeKind
from halewright.core.mechanics import path as band_ways
from halewright.core.mechanics import points
from halewright.media import figure_person, outline, palette
from halewright.media.camera import SCALE, Array
from halewright.media.figure_parts import Coat, Part, Sketch
from halewright.media.outline import Ball

WIDTH_M = 0.026
"""How wide the strip is drawn; a band under tension is narrower than its flat width."""
_EDGE_PX = 1.5
_LEAST_AREA = 60.0
"""Pieces that show less, in square picture units, would read as specks."""
_PIECE_M = 0.035
_ROUND_M = 0.012
"""How far a loop is drawn outside the limb, so that it shows on it."""


class _Way(Enum):
    """How a course runs, which decides what may hide it."""

    STRAIGHT = "straight"
    CORNERED = "cornered"
    FROM_BEHIND = "from behind"


def _way(*, course: Array, path: BandPath) -> _Way:
    if any(node.at.startswith("upper_back") for node in path.nodes):
        return _Way.FROM_BEHIND
    return _Way.STRAIGHT if course.shape[1] == 2 else _Way.CORNERED


def parts(sketch: Sketch, *, paths: tuple[BandPath, ...], person: list[Part]) -> list[Part]:
    """Return the band's parts, drawn after the person, less what the person hides."""
    found = []
    for number, path in enumerate(paths):
        shapes = []
        for course in _courses(sketch, path):
            shapes += _seen(sketch, course=course, path=path, person=person)
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


def _courses(sketch: Sketch, path: BandPath) -> list[Array]:
    """Return the band's ways as lines of world points, (3, K) each."""
    if path.closed and all(node.kind is NodeKind.WRAP for node in path.nodes):
        return [_ring(sketch, path)]
    spans = band_ways.lengths(posture=sketch.posture, path=path)
    courses = []
    for span in spans:
        corners = [corner[:, sketch.frame] for corner in span.course_m]
        courses.append(np.stack(corners, axis=1))
    return courses


def _ring(sketch: Sketch, path: BandPath) -> Array:
    """Return the closed line of a loop round two limbs, seen as an open belt in space."""
    places = points.places(body=sketch.body, chair=sketch.posture.chair)
    centres, radii, axes = [], [], []
    for node in path.nodes:
        place = places[node.at]
        at = sketch.posture.located_m(owner=place.owner, at_m=(0.0, 0.0, place.at_m[2]))
        centres.append(at[:, sketch.frame])
        radii.append((place.radius_m or 0.0) + _ROUND_M)
        axes.append(sketch.posture.axes[place.owner][:, 2, sketch.frame])
    across = centres[1] - centres[0]
    across = across / max(float(np.linalg.norm(across)), 1e-9)
    line = []
    for centre, radius, axis, start in (
        (centres[0], radii[0], axes[0], 0.5 * math.pi),
        (centres[1], radii[1], axes[1], -0.5 * math.pi),
    ):
        side = np.cross(axis, across)
        side = side / max(float(np.linalg.norm(side)), 1e-9)
        out = np.cross(side, axis)
        for turn in np.linspace(start, start + math.pi, 13):
            line.append(centre + radius * (math.cos(turn) * out + math.sin(turn) * side))
    line.append(line[0])
    return np.stack(line, axis=1)


def _seen(
    sketch: Sketch, *, course: Array, path: BandPath, person: list[Part]
) -> list[BaseGeometry]:
    """Return what is seen of a course: runs of it, each less the parts that are nearer there."""
    way = _way(course=course, path=path)
    marks = _marks(course)
    middles = 0.5 * (marks[:, 1:] + marks[:, :-1])
    flat = sketch.camera.flat(marks)
    hidden = [
        (part, covered)
        for part in person
        if part.limbs and (covered := _covered(sketch, part=part, at=middles, way=way)).any()
    ]
    if way is _Way.STRAIGHT:
        # A straight span passes a limb on one side for its whole way.
        hidden = [(part, np.ones_like(covered)) for part, covered in hidden]
    dropped = _at_the_back(sketch, at=middles) & (way is _Way.FROM_BEHIND)
    keys = [
        None if dropped[k] else tuple(bool(covered[k]) for _, covered in hidden)
        for k in range(middles.shape[1])
    ]
    pieces: list[BaseGeometry] = []
    for key, run in itertools.groupby(range(len(keys)), key=lambda k: keys[k]):
        numbers = list(run)
        if key is None:
            continue
        strip = outline.ribbon(flat[:, numbers[0] : numbers[-1] + 2], WIDTH_M * SCALE)
        for (part, _), is_over in zip(hidden, key, strict=True):
            if is_over:
                strip = strip.difference(part.silhouette)
        if strip.area > _LEAST_AREA:
            pieces.append(strip)
    return pieces


def _marks(course: Array) -> Array:
    """Return the course with points close enough to judge each piece by its middle, (3, K)."""
    marks = [course[:, :1]]
    for a, b in itertools.pairwise(course.T):
        count = max(1, math.ceil(float(np.linalg.norm(b - a)) / _PIECE_M))
        shares = np.arange(1, count + 1) / count
        marks.append(a[:, None] + (b - a)[:, None] * shares)
    return np.concatenate(marks, axis=1)


def _covered(sketch: Sketch, *, part: Part, at: Array, way: _Way) -> npt.NDArray[np.bool_]:
    """Return at which places (3, K) some limb of a part is in front of the band.

    A straight span counts as before or behind it as most of it is.
    One that comes from behind the back runs under the nearer arm.
    """
    behind = np.zeros(at.shape[1], dtype=np.bool_)
    overlapped = np.zeros(at.shape[1], dtype=np.bool_)
    for limb in part.limbs:
        overlaps, hides = _covers(sketch, limb=limb, at=at)
        overlapped |= overlaps
        behind |= hides
    near = figure_person.nearer_side(sketch)
    if way is _Way.FROM_BEHIND and part.name in (f"upper arm {near}", f"forearm {near}"):
        return overlapped
    if way is _Way.FROM_BEHIND and part.name == "trunk":
        return behind | (overlapped & ~_before_the_chest(sketch, at=at))
    if way is _Way.STRAIGHT and overlapped.any() and behind[overlapped].mean() < 0.5:
        return np.zeros_like(overlapped)
    return behind


def _forward_m(sketch: Sketch, *, at: Array) -> Array:
    origin = sketch.posture.origins_m["upper_trunk"][:, sketch.frame]
    ahead = sketch.posture.axes["upper_trunk"][:, 0, sketch.frame]
    return np.asarray(ahead @ (at - origin[:, None]), dtype=np.float64)


def _before_the_chest(sketch: Sketch, *, at: Array) -> npt.NDArray[np.bool_]:
    limit_m = 0.8 * sketch.body.trunk_radius_m
    return np.asarray(_forward_m(sketch, at=at) > limit_m, dtype=np.bool_)


def _at_the_back(sketch: Sketch, *, at: Array) -> npt.NDArray[np.bool_]:
    """Return where a band from behind the back is not yet past the trunk's middle."""
    return np.asarray(_forward_m(sketch, at=at) < 0.0, dtype=np.bool_)


def _covers(
    sketch: Sketch, *, limb: tuple[Ball, Ball], at: Array
) -> tuple[npt.NDArray[np.bool_], npt.NDArray[np.bool_]]:
    """Return where a limb's silhouette is over the band, and where its middle line is nearer too.

    The middle line, not the surface: a band lies against the skin, and one drawn straight through
    the rim of a limb really passes before it.
    """
    first, last = limb
    start = sketch.camera.flat(first.at_m) / SCALE
    along = sketch.camera.flat(last.at_m) / SCALE - start
    off = sketch.camera.flat(at) / SCALE - start[:, None]
    squared = float(along @ along)
    if squared > 1e-9:
        share = np.clip((along @ off) / squared, 0.0, 1.0)
    else:
        share = np.full(at.shape[1], 0.5)
    radius_m = first.radius_m + (last.radius_m - first.radius_m) * share
    miss_m = np.linalg.norm(off - along[:, None] * share, axis=0)
    near_m, far_m = (float(sketch.camera.depth_m(ball.at_m)) for ball in limb)
    line_m = near_m + (far_m - near_m) * share
    overlaps = np.asarray(miss_m < radius_m + 0.5 * WIDTH_M, dtype=np.bool_)
    return overlaps, overlaps & (line_m > sketch.camera.depth_m(at))
