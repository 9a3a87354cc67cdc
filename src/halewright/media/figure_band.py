"""The band: a strip along its true way, hidden where a limb is truly in front of it."""

import itertools
import math

import numpy as np
import numpy.typing as npt
from shapely.geometry.base import BaseGeometry

from halewright.core.catalogue.movement import BandPath, NodeKind
from halewright.core.mechanics import path as band_ways
from halewright.core.mechanics import points
from halewright.media import outline, palette
from halewright.media.camera import SCALE, Array
from halewright.media.figure_parts import Coat, Part, Sketch
from halewright.media.outline import Ball

WIDTH_M = 0.026
"""How wide the strip is drawn; a band under tension is narrower than its flat width."""
_EDGE_PX = 1.5
_PIECE_M = 0.035
_ROUND_M = 0.012
"""How far a loop is drawn outside the limb, so that it shows on it."""


def parts(sketch: Sketch, *, paths: tuple[BandPath, ...], person: list[Part]) -> list[Part]:
    """Return the band's parts, drawn after the person, less what the person hides."""
    found = []
    for number, path in enumerate(paths):
        shapes = []
        for course in _courses(sketch, path):
            shapes += _seen(sketch, course=course, person=person)
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


def _seen(sketch: Sketch, *, course: Array, person: list[Part]) -> list[BaseGeometry]:
    """Return what is seen of a course: runs of it, each less the parts that are nearer there."""
    marks = _marks(course)
    middles = 0.5 * (marks[:, 1:] + marks[:, :-1])
    hidden = [
        (part, covered)
        for part in person
        if part.limbs
        and (
            covered := _covered(sketch, part=part, at=middles, is_straight=course.shape[1] == 2)
        ).any()
    ]
    flat = sketch.camera.flat(marks)
    pieces: list[BaseGeometry] = []
    by = [tuple(bool(covered[k]) for _, covered in hidden) for k in range(middles.shape[1])]
    for key, run in itertools.groupby(range(len(by)), key=lambda k: by[k]):
        numbers = list(run)
        line = flat[:, numbers[0] : numbers[-1] + 2]
        strip = outline.ribbon(line, WIDTH_M * SCALE)
        for (part, _), is_over in zip(hidden, key, strict=True):
            if is_over:
                strip = strip.difference(part.coats[0].shape)
        if not strip.is_empty:
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


def _covered(sketch: Sketch, *, part: Part, at: Array, is_straight: bool) -> npt.NDArray[np.bool_]:
    """Return at which places (3, K) some limb of a part is in front of the band."""
    behind = np.zeros(at.shape[1], dtype=np.bool_)
    overlapped = np.zeros(at.shape[1], dtype=np.bool_)
    for limb in part.limbs:
        overlaps, hides = _covers(sketch, limb=limb, at=at)
        overlapped |= overlaps
        behind |= hides
    if is_straight and overlapped.any():
        # A straight span passes a limb on one side: the side where most of it lies.
        mostly = behind[overlapped].mean() > 0.5
        return overlapped if mostly else np.zeros_like(overlapped)
    return behind


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
