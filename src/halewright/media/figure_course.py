"""Where the band is drawn: its way of the mechanics, led round what a real band cannot cut through.

The mechanics measures to the middle of a sole and the underside of a thigh. A drawn band comes up
beside the shoe, round the thigh's outer side and past the ribs, hangs where it is slack, and shows
its free end beyond the fist.
"""

import itertools
import math
from dataclasses import dataclass, replace

import numpy as np

from halewright.core.catalogue.movement import BandPath, NodeKind, PathNode
from halewright.core.mechanics import joints, points
from halewright.core.mechanics import path as band_ways
from halewright.core.mechanics.path import Span
from halewright.media.camera import Array
from halewright.media.figure_parts import Sketch

WIDTH_M = 0.026
"""How wide the strip is drawn; a band under tension is narrower than its flat width."""
_LOOP_M = 0.042
"""How wide a loop is drawn where it lies flat on limbs."""
_SHOE_HALF_M = 0.047
_CLEAR_M = 0.006
"""How far a band is drawn outside the limb it lies on, so that it shows."""
_RIBS_RATIO = 0.058
_COLUMN_ASIDE_RATIO = 0.044
_COLUMN_FORWARD_RATIO = 0.006
"""The drawn ribs' half-round on either side, and its middle, as shares of stature."""
_BELOW_BLADE_M = 0.035
"""A band behind the back is drawn this much lower, so that it comes out under the arms."""
_TAIL_M = 0.05
"""The free end beyond the fist."""
_SLACK_M = 0.004
"""Less slack than this is not seen."""
_HALF_TURN = np.linspace(0.0, math.pi, 13)


@dataclass(frozen=True, slots=True, kw_only=True)
class Course:
    """One line of band: corners (3, K) and, where it lies flat on limbs, its half width (3, K).

    `under` names what each of the K - 1 steps runs under: a foot's segment, "seat" between thigh
    and seat, or nothing. `hand` is the side of the fist that this is the free end of, or empty.
    """

    corners_m: Array
    under: tuple[str, ...]
    half_m: Array | None = None
    hand: str = ""


def courses(sketch: Sketch, path: BandPath) -> list[Course]:
    """Return the lines that a band is drawn along."""
    if path.closed and all(node.kind is NodeKind.WRAP for node in path.nodes):
        return [_belt(sketch, path)]
    if path.closed and len(path.nodes) == 2:
        return [_noose(sketch, path)]
    found: list[Course] = []
    first = 0
    for span in band_ways.lengths(posture=sketch.posture, path=path):
        nodes = path.nodes[first : first + span.node_indexes[-1] + 1]
        found.append(_led(sketch, span=span, nodes=nodes))
        first += span.node_indexes[-1]
    ends = [] if path.closed else [(found[0], 0, 1), (found[-1], -1, -2)]
    for course, near, far in ends:
        at = path.nodes[near].at
        corners = course.corners_m
        if at in points.GRIPS:
            tail = _tail(hand_m=corners[:, near], towards_m=corners[:, far])
            found.append(replace(tail, hand=at.removeprefix("grip_")))
        elif joints.plain(at) in ("ankle", "shank"):
            found.append(_cuff(sketch, at))
    return found


def _led(sketch: Sketch, *, span: Span, nodes: tuple[PathNode, ...]) -> Course:
    """Lead one span round shoes, thighs and ribs; hang it where it is slack."""
    corners = [corner[:, sketch.frame] for corner in span.course_m]
    drawn: list[Array] = []
    under: list[str] = []
    for number, corner in enumerate(corners):
        node = nodes[span.node_indexes[number] % len(nodes)]
        before = corners[number - 1] if number else None
        after = corners[number + 1] if number + 1 < len(corners) else None
        stops = [corner] if node.kind is NodeKind.WRAP else _stops(sketch, node.at, before, after)
        for place, stop in enumerate(stops):
            if drawn:
                under.append(_under(node.at) if place else "")
            drawn.append(stop)
    if len(drawn) == 2:
        drawn = _hung(drawn, slack_m=_slack_m(sketch, span))
        under = [""] * (len(drawn) - 1)
    return Course(corners_m=np.stack(drawn, axis=1), under=tuple(under))


def _under(at: str) -> str:
    """Return what hides a band at a point: the foot it is under, or the seat."""
    plain, _, side = at.rpartition("_")
    if plain == "under_thigh":
        return "seat"
    return f"foot_{side}" if plain in ("sole", "toe") else ""


def _stops(sketch: Sketch, at: str, before: Array | None, after: Array | None) -> list[Array]:
    """Return the places by which a band comes to a point, is there, and leaves it."""
    plain, _, side = at.rpartition("_")
    point = sketch.posture.point_m(at)[:, sketch.frame]
    if plain in ("sole", "toe"):
        across = _SHOE_HALF_M * sketch.posture.axes[f"foot_{side}"][:, 1, sketch.frame]
        return _under_shoe(
            point, edges=(point + across, point - across), before=before, after=after
        )
    if plain == "upper_back":
        ribs = _round_ribs(sketch, side=side)
        comes_from_hand = before is not None and _is_beside(before, ribs[-1], ribs[0])
        return ribs if comes_from_hand else ribs[::-1]
    if plain not in ("thigh_top", "under_thigh"):
        return [point]
    outer = _beside_thigh(sketch, plain=plain, side=side)
    first = [outer] if before is not None and _is_beside(before, point, outer) else []
    last = [outer] if after is not None and _is_beside(after, point, outer) else []
    return [*first, point, *last]


def _under_shoe(
    point: Array, *, edges: tuple[Array, Array], before: Array | None, after: Array | None
) -> list[Array]:
    """Return the way under a sole: in by one edge and out by the other, or in to the middle."""
    first, second = edges
    if before is not None and after is not None:
        there_m = _apart(before, first) + _apart(second, after)
        other_m = _apart(before, second) + _apart(first, after)
        return [first, second] if there_m <= other_m else [second, first]
    other = before if before is not None else after
    is_first = other is None or _apart(first, other) <= _apart(second, other)
    edge = first if is_first else second
    return [edge, point] if before is not None else [point, edge]


def _beside_thigh(sketch: Sketch, *, plain: str, side: str) -> Array:
    """Return the place on the outer side of a thigh by which a band passes."""
    sign, body = (1.0 if side == "left" else -1.0), sketch.body
    low_m = 0.0 if plain == "thigh_top" else -0.7 * body.thigh_radius_m
    local = (low_m, sign * (body.thigh_radius_m + _CLEAR_M), -0.5 * body.length_m("thigh"))
    return sketch.posture.located_m(owner=f"thigh_{side}", at_m=local)[:, sketch.frame]


def _round_ribs(sketch: Sketch, *, side: str) -> list[Array]:
    """Return the way round one side of the drawn ribs, from under the arm to the back."""
    sign, long_m = (1.0 if side == "left" else -1.0), sketch.body.stature_m
    blades = points.places(body=sketch.body, chair=sketch.posture.chair)
    high_m = blades[f"upper_back_{side}"].at_m[2] - _BELOW_BLADE_M
    wide_m = sketch.look.girth_ratio * long_m
    radius_m = _RIBS_RATIO * wide_m + _CLEAR_M
    stops = []
    for turn in np.linspace(0.0, 0.5 * math.pi, 4):
        back_m = _COLUMN_FORWARD_RATIO * long_m - radius_m * math.sin(turn)
        aside_m = sign * (_COLUMN_ASIDE_RATIO * wide_m + radius_m * math.cos(turn))
        at = sketch.posture.located_m(owner="upper_trunk", at_m=(back_m, aside_m, high_m))
        stops.append(at[:, sketch.frame])
    return stops


def _apart(one: Array, other: Array) -> float:
    return float(np.linalg.norm(one - other))


def _is_beside(end: Array, point: Array, outer: Array) -> bool:
    """Return whether the band goes to the outer side: its other end lies that way."""
    return float((outer - point)[1] * (end - point)[1]) >= -0.002


def _slack_m(sketch: Sketch, span: Span) -> float:
    """Return by how much a span is shorter than at the start, where it is taken to be just taut."""
    start = int(np.argmin(sketch.posture.phase_ratios))
    return float(span.length_m[start] - span.length_m[sketch.frame])


def _hung(ends: list[Array], *, slack_m: float) -> list[Array]:
    """Return a straight step, or a shallow arc that takes up the slack: sag = √(3/8 · d · slack).

    Source: the length of a flat parabola, elementary geometry.
    """
    if slack_m < _SLACK_M:
        return ends
    reach_m = _apart(ends[0], ends[1])
    sag_m = min(math.sqrt(0.375 * reach_m * slack_m), 0.4 * reach_m)
    shares = np.linspace(0.0, 1.0, 9)
    down = np.array([0.0, 0.0, -1.0])
    return [
        ends[0] + share * (ends[1] - ends[0]) + 4.0 * sag_m * share * (1.0 - share) * down
        for share in shares
    ]


def _tail(*, hand_m: Array, towards_m: Array) -> Course:
    """Return the free end: it comes out of the fist away from the pull and drops."""
    away = hand_m - towards_m
    away = away / max(float(np.linalg.norm(away)), 1e-9)
    out = hand_m + 0.75 * _TAIL_M * away
    end = out + _TAIL_M * (0.35 * away + np.array([0.0, 0.0, -0.8]))
    return Course(corners_m=np.stack([hand_m, out, end], axis=1), under=("", ""))


def _noose(sketch: Sketch, path: BandPath) -> Course:
    """Return a loop over two places, closed: two strands, apart by what they go round."""
    ring: list[Array] = []
    under: list[str] = []
    for node, sign in zip(path.nodes, (1.0, -1.0), strict=True):
        place = points.places(body=sketch.body, chair=sketch.posture.chair)[node.at]
        at = sketch.posture.point_m(node.at)[:, sketch.frame]
        axes = sketch.posture.axes[place.owner][:, :, sketch.frame]
        is_sole = joints.plain(node.at) in ("sole", "toe")
        half_m = _SHOE_HALF_M if is_sole else (place.radius_m or _SHOE_HALF_M) + _CLEAR_M
        across = sign * half_m * axes[:, 1]
        behind = [] if is_sole else [at - half_m * axes[:, 0]]
        stops = [at + across, *behind, at - across]
        under += [_under(node.at)] * (len(stops) - 1) + [""]
        ring += stops
    return Course(corners_m=np.stack([*ring, ring[0]], axis=1), under=tuple(under))


def _cuff(sketch: Sketch, at: str) -> Course:
    """Return the band's end tied round a limb: a flat ring."""
    centre, radius_m, axis = _limb(sketch, at)
    side = np.cross(axis, np.array([1.0, 0.0, 0.0]))
    side = side / max(float(np.linalg.norm(side)), 1e-9)
    out = np.cross(side, axis)
    turns = np.linspace(0.0, 2.0 * math.pi, 25)
    line = [centre + radius_m * (math.cos(turn) * out + math.sin(turn) * side) for turn in turns]
    return _flat(line=line, half=[0.5 * WIDTH_M * axis] * len(line))


def _limb(sketch: Sketch, at: str) -> tuple[Array, float, Array]:
    """Return the middle, drawn radius and axis of a limb where a band lies round it."""
    place = points.places(body=sketch.body, chair=sketch.posture.chair)[at]
    middle = sketch.posture.located_m(owner=place.owner, at_m=(0.0, 0.0, place.at_m[2]))
    axis = sketch.posture.axes[place.owner][:, 2, sketch.frame]
    return middle[:, sketch.frame], (place.radius_m or 0.0) + _CLEAR_M, axis


def _belt(sketch: Sketch, path: BandPath) -> Course:
    """Return a loop round two limbs, closed: half round the one, across, half round the other."""
    limbs = [_limb(sketch, node.at) for node in path.nodes]
    across = limbs[1][0] - limbs[0][0]
    across = across / max(float(np.linalg.norm(across)), 1e-9)
    line, half = [], []
    for (centre, radius_m, axis), start in zip(limbs, (0.5, -0.5), strict=True):
        side = np.cross(axis, across)
        side = side / max(float(np.linalg.norm(side)), 1e-9)
        out = np.cross(side, axis)
        for turn in start * math.pi + _HALF_TURN:
            line.append(centre + radius_m * (math.cos(turn) * out + math.sin(turn) * side))
            half.append(0.5 * _LOOP_M * axis)
    return _flat(line=[*line, line[0]], half=[*half, half[0]])


def _flat(*, line: list[Array], half: list[Array]) -> Course:
    return Course(
        corners_m=np.stack(line, axis=1),
        under=tuple("" for _ in itertools.pairwise(line)),
        half_m=np.stack(half, axis=1),
    )
