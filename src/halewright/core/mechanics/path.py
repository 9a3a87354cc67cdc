"""The way of a band over body and chair: its course, and the lengths of its spans.

Clamps split a band into spans, each of which stretches by itself; slides and wraps let it pass. A
closed loop has one span. Wraps follow the shortest line on the cylinder (a helix), on the side the
point names. A loop round two limbs is the open belt round two circles at the centres' distance.
"""

import itertools
from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from halewright.core.catalogue.movement import BandPath, NodeKind, PathNode
from halewright.core.errors import HalewrightError
from halewright.core.mechanics import points
from halewright.core.mechanics.angles import Array
from halewright.core.mechanics.kinematics import Posture
from halewright.core.mechanics.points import Place

_ROUNDS = 12
"""Passes over neighbouring wraps; each halves what is left of the error or better."""


class NoBandWay(HalewrightError):
    """A band path that cannot be laid."""

    def __init__(self, reason: str) -> None:
        """Say what is wrong with the path."""
        super().__init__(f"The band's way cannot be laid: {reason}.")


@dataclass(frozen=True, slots=True, kw_only=True)
class Wrap:
    """A band's contact with one cylinder over N frames; all (3, N) or (N,).

    Where the band passes clear of the cylinder both contact points are the same place on the
    straight line and the arc is zero.
    """

    on_m: Array
    off_m: Array
    arc_m: Array


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """A stretch of band between two clamps (or a whole loop).

    `length_m` is (N,); `course_m` the corners it passes, (3, N) each, for forces and drawing.
    `owners` and `node_indexes` say for each corner which segment (or the chair) carries it and
    which node of the path it belongs to; `arcs_m` holds, by the index of the first corner of a
    step, the length of each step that lies on a cylinder: all other steps are straight.
    """

    length_m: Array
    course_m: tuple[Array, ...]
    owners: tuple[str, ...]
    node_indexes: tuple[int, ...]
    arcs_m: Mapping[int, Array] = field(default_factory=dict)


def lengths(*, posture: Posture, path: BandPath) -> tuple[Span, ...]:
    """Return the spans of one band over the posture's frames.

    Raises NoBandWay for an unknown point, a wrap where there is no cylinder, or too few nodes.
    """
    places = points.places(body=posture.body, chair=posture.chair)
    for node in path.nodes:
        if node.at not in places:
            raise NoBandWay(f"there is no point “{node.at}”")
        if node.kind is NodeKind.WRAP and places[node.at].radius_m is None:
            raise NoBandWay(f"“{node.at}” has no cylinder to wrap round")
    if len(path.nodes) < 2:
        raise NoBandWay("it needs two points or more")
    if path.closed:
        return (_loop(posture=posture, path=path, places=places),)
    if path.nodes[0].kind is NodeKind.WRAP or path.nodes[-1].kind is NodeKind.WRAP:
        raise NoBandWay("an open band must begin and end at a point that holds it")
    return tuple(
        _span(posture=posture, nodes=nodes, places=places) for nodes in _between_clamps(path)
    )


def _between_clamps(path: BandPath) -> tuple[tuple[PathNode, ...], ...]:
    inner = range(1, len(path.nodes) - 1)
    cuts = [0, *(k for k in inner if path.nodes[k].kind is NodeKind.CLAMP), len(path.nodes) - 1]
    return tuple(path.nodes[a : b + 1] for a, b in itertools.pairwise(cuts))


def _span(*, posture: Posture, nodes: tuple[PathNode, ...], places: Mapping[str, Place]) -> Span:
    """Lay one span: pull the wraps' contact points tight by turns, then measure."""
    fixed = [posture.point_m(node.at) for node in nodes]
    contacts: list[Wrap | None] = [None for _ in nodes]
    wraps = [k for k, node in enumerate(nodes) if node.kind is NodeKind.WRAP]
    for _ in range(_ROUNDS if len(wraps) > 1 else 1):
        for k in wraps:
            before, after = contacts[k - 1], contacts[k + 1]
            contacts[k] = _wrap_at(
                posture=posture,
                place=places[nodes[k].at],
                start_m=fixed[k - 1] if before is None else before.off_m,
                end_m=fixed[k + 1] if after is None else after.on_m,
            )
    course: list[Array] = []
    indexes: list[int] = []
    arcs_m: dict[int, Array] = {}
    for k, (point_m, contact) in enumerate(zip(fixed, contacts, strict=True)):
        if contact is None:
            course.append(point_m)
            indexes.append(k)
        else:
            arcs_m[len(course)] = contact.arc_m
            course += [contact.on_m, contact.off_m]
            indexes += [k, k]
    steps_m = [
        arcs_m.get(k, _distance_m(a, b)) for k, (a, b) in enumerate(itertools.pairwise(course))
    ]
    return Span(
        length_m=sum(steps_m, np.zeros(posture.count)),
        course_m=tuple(course),
        owners=tuple(places[nodes[k].at].owner for k in indexes),
        node_indexes=tuple(indexes),
        arcs_m=arcs_m,
    )


def _distance_m(a: Array, b: Array) -> Array:
    return np.asarray(np.linalg.norm(b - a, axis=0), dtype=np.float64)


def _wrap_at(*, posture: Posture, place: Place, start_m: Array, end_m: Array) -> Wrap:
    """Wrap round the cylinder of a place, in the owner's own axes."""
    assert place.radius_m is not None  # noqa: S101  checked by `lengths`
    axes, origin = posture.axes[place.owner], posture.origins_m[place.owner]

    def inward(at_m: Array) -> Array:
        return np.asarray(np.einsum("jin,jn->in", axes, at_m - origin), dtype=np.float64)

    def outward(at_m: Array) -> Array:
        return np.asarray(np.einsum("ijn,jn->in", axes, at_m) + origin, dtype=np.float64)

    local = wrap(
        start_m=inward(start_m),
        end_m=inward(end_m),
        radius_m=place.radius_m,
        over=(place.over[0], place.over[1]),
    )
    return Wrap(on_m=outward(local.on_m), off_m=outward(local.off_m), arc_m=local.arc_m)


def wrap(*, start_m: Array, end_m: Array, radius_m: float, over: tuple[float, float]) -> Wrap:
    """Wrap a band round the cylinder about z through zero, on the side that `over` points to.

    Of the two ways round, the one whose two tangent points together lie more to that side is
    taken, and never one of more than half a turn. Where the straight line passes the cylinder on
    that side, the band does not touch. An end inside the cylinder counts as on its surface.
    """
    start_r = np.maximum(np.hypot(start_m[0], start_m[1]), radius_m)
    end_r = np.maximum(np.hypot(end_m[0], end_m[1]), radius_m)
    start_angle = np.arctan2(start_m[1], start_m[0])
    end_angle = np.arctan2(end_m[1], end_m[0])
    ways = []
    for turn in (1.0, -1.0):
        first = start_angle + turn * np.arccos(radius_m / start_r)
        last = end_angle - turn * np.arccos(radius_m / end_r)
        arc = np.mod(turn * (last - first), 2.0 * np.pi)
        sided = (np.cos(first) + np.cos(last)) * over[0] + (np.sin(first) + np.sin(last)) * over[1]
        ways.append((sided - 10.0 * (arc > np.pi), first, last, arc))
    better = ways[0][0] >= ways[1][0]
    first, last, arc = (np.where(better, ways[0][k], ways[1][k]) for k in (1, 2, 3))
    free, nearest = _passes_clear(start_m=start_m, end_m=end_m, radius_m=radius_m, over=over)
    free |= arc > np.pi
    reach_on_m = np.sqrt(start_r**2 - radius_m**2)
    reach_off_m = np.sqrt(end_r**2 - radius_m**2)
    flat_m = np.maximum(reach_on_m + radius_m * arc + reach_off_m, 1e-12)
    # On the unrolled cylinder the shortest line is straight, so height goes with length.
    rise_m = (end_m[2] - start_m[2]) / flat_m
    on_z_m = start_m[2] + rise_m * reach_on_m
    off_z_m = on_z_m + rise_m * radius_m * arc
    on_m = np.stack([radius_m * np.cos(first), radius_m * np.sin(first), on_z_m])
    off_m = np.stack([radius_m * np.cos(last), radius_m * np.sin(last), off_z_m])
    arc_m = radius_m * arc * np.sqrt(1.0 + rise_m**2)
    return Wrap(
        on_m=np.where(free, nearest, on_m),
        off_m=np.where(free, nearest, off_m),
        arc_m=np.where(free, 0.0, arc_m),
    )


def _passes_clear(
    *, start_m: Array, end_m: Array, radius_m: float, over: tuple[float, float]
) -> tuple[npt.NDArray[np.bool_], Array]:
    """Return where the straight line misses the cylinder on the wanted side, and its near point."""
    way = end_m - start_m
    along = way[0] ** 2 + way[1] ** 2
    share = np.clip(
        -(start_m[0] * way[0] + start_m[1] * way[1]) / np.maximum(along, 1e-12), 0.0, 1.0
    )
    nearest = start_m + share * way
    outside = nearest[0] ** 2 + nearest[1] ** 2 >= radius_m**2 * (1.0 - 1e-12)
    sided = nearest[0] * over[0] + nearest[1] * over[1] >= 0.0
    return outside & sided, nearest


def _loop(*, posture: Posture, path: BandPath, places: Mapping[str, Place]) -> Span:
    """Measure a closed loop: a belt round two limbs, or the polygon of its points."""
    wrapped = [places[node.at] for node in path.nodes if node.kind is NodeKind.WRAP]
    if wrapped and (len(wrapped) != 2 or len(path.nodes) != 2):
        raise NoBandWay("a closed loop wraps round two limbs and passes nothing else")
    if wrapped:
        centres = [
            posture.located_m(owner=place.owner, at_m=(0.0, 0.0, place.at_m[2]))
            for place in wrapped
        ]
        length_m = belt_m(
            distance_m=_distance_m(*centres),
            first_radius_m=wrapped[0].radius_m or 0.0,
            second_radius_m=wrapped[1].radius_m or 0.0,
        )
        return Span(
            length_m=length_m,
            course_m=tuple(centres),
            owners=tuple(place.owner for place in wrapped),
            node_indexes=(0, 1),
        )
    corners = [posture.point_m(node.at) for node in path.nodes]
    ring = [*corners, corners[0]]
    length_m = sum(
        (_distance_m(a, b) for a, b in itertools.pairwise(ring)), np.zeros(posture.count)
    )
    at = (*range(len(path.nodes)), 0)
    return Span(
        length_m=length_m,
        course_m=tuple(ring),
        owners=tuple(places[path.nodes[k].at].owner for k in at),
        node_indexes=at,
    )


def belt_m(*, distance_m: Array, first_radius_m: float, second_radius_m: float) -> Array:
    """Return the length of an open belt round two circles: 2d + 2πr where they are alike.

    In general 2√(d² - (R-r)²) + R(π + 2α) + r(π - 2α) with sin α = (R-r)/d (elementary geometry).
    Where one circle holds the other the belt is the greater one's girth.
    """
    greater_m = max(first_radius_m, second_radius_m)
    lesser_m = min(first_radius_m, second_radius_m)
    apart_m = np.maximum(distance_m, greater_m - lesser_m)
    lean = np.arcsin((greater_m - lesser_m) / np.maximum(apart_m, 1e-12))
    straight_m = 2.0 * np.sqrt(np.maximum(apart_m**2 - (greater_m - lesser_m) ** 2, 0.0))
    return np.asarray(
        straight_m + greater_m * (np.pi + 2.0 * lean) + lesser_m * (np.pi - 2.0 * lean),
        dtype=np.float64,
    )
