"""Flat shapes from spheres: hulls, fillets, shade, and their path in an SVG.

A sphere projects to a circle in every view, so the hull of projected spheres is the right
silhouette of a rounded limb from anywhere. Shapes are shapely geometries in picture units.
"""

import functools
import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from halewright.media.camera import SCALE, Array, Camera

_SEGMENTS = 6
"""Corners to a quarter circle; paths are drawn as curves through them."""
_ROUND_PX = 5.0
"""Corners are rounded over at most this much of each edge."""
_COARSE_PX = 0.28
"""Corners nearer than this to the line between their neighbours are left out."""
_LEAST_AREA = 5.0
"""Specks smaller than this many square picture units are left out."""
FINE = 5
"""Whole path units to the picture unit: half a millimetre on the body."""
_CIRCLE = np.stack(
    [(np.cos(turn), np.sin(turn)) for turn in np.linspace(0.0, 2.0 * math.pi, 28, endpoint=False)]
)


@dataclass(frozen=True, slots=True)
class Ball:
    """A sphere in the scene: its centre (3,) and radius in metres."""

    at_m: Array
    radius_m: float


def hull(camera: Camera, *balls: Ball) -> BaseGeometry:
    """Return the silhouette of the convex hull of spheres."""
    rings = [camera.flat(ball.at_m) + ball.radius_m * SCALE * _CIRCLE for ball in balls]
    return shapely.convex_hull(shapely.multipoints(np.concatenate(rings)))


def chain(camera: Camera, *balls: Ball) -> BaseGeometry:
    """Return the silhouette of a limb: hulls of neighbouring spheres, joined."""
    return merged([hull(camera, a, b) for a, b in itertools.pairwise(balls)])


def merged(shapes: Sequence[BaseGeometry]) -> BaseGeometry:
    """Return the union of shapes."""
    return shapely.union_all(list(shapes))


def fillet(shape: BaseGeometry, px: float) -> BaseGeometry:
    """Fill inner corners with curves of this radius (out, then in)."""
    return shape.buffer(px, _SEGMENTS).buffer(-px, _SEGMENTS)


def soften(shape: BaseGeometry, px: float) -> BaseGeometry:
    """Round outer corners and drop slivers thinner than twice this (in, then out)."""
    return shape.buffer(-px, _SEGMENTS).buffer(px, _SEGMENTS)


def shade(shape: BaseGeometry, *, right: float, down: float) -> BaseGeometry:
    """Return the crescent on the side away from the light: the shape less itself shifted."""
    return soften(shape.difference(affinity.translate(shape, -right, -down)), 0.7)


def widen(shape: BaseGeometry, px: float) -> BaseGeometry:
    """Return the shape grown by so much all round."""
    return shape.buffer(px, _SEGMENTS)


def ribbon(points: Array, width_px: float) -> BaseGeometry:
    """Return a strip of this width along flat points (2, K), ends cut square."""
    return shapely.LineString(points.T).buffer(
        0.5 * width_px, _SEGMENTS, cap_style="flat", join_style="round"
    )


@functools.lru_cache(maxsize=2048)
def path_d(shape: BaseGeometry) -> str:
    """Return the shape as SVG path data in whole fine units (`FINE` to the picture unit)."""
    parts = []
    for polygon in shapely.get_parts(shape):
        if polygon.geom_type != "Polygon" or polygon.area < _LEAST_AREA:
            continue
        for ring in (polygon.exterior, *polygon.interiors):
            plain = shapely.simplify(ring, _COARSE_PX, preserve_topology=False)
            corners = shapely.get_coordinates(plain)[:-1]
            if len(corners) > 2:
                parts.append(_ring_d(corners))
    return "".join(parts)


def _ring_d(corners: Array) -> str:
    """Write one closed ring: each corner is a quadratic curve between points on its edges."""
    before = np.concatenate([corners[-1:], corners[:-1]])
    length = np.hypot(*(corners - before).T)
    share = np.minimum(0.5, _ROUND_PX / np.maximum(length, 1e-9))[:, None]
    enter = np.rint((corners + (before - corners) * share) * FINE).astype(int)
    leave = np.rint((before + (corners - before) * share) * FINE).astype(int)
    leave = np.concatenate([leave[1:], leave[:1]])
    bend = np.rint(corners * FINE).astype(int)
    x, y = enter[0].tolist()
    words = [f"M{x} {y}"]
    for (a, b), (c, d), (e, f) in zip(enter.tolist(), bend.tolist(), leave.tolist(), strict=True):
        if abs(a - x) + abs(b - y) > 2:
            words.append(f"l{a - x} {b - y}")
            x, y = a, b
        words.append(f"q{c - x} {d - y} {e - x} {f - y}")
        x, y = e, f
    return "".join(words).replace(" -", "-") + "z"
