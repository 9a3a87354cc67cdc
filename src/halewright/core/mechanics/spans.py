"""A band laid over a body as lengths and point forces: what stretches, what is pinned, who holds.

Every force is the negative gradient of a length with respect to one point, so forces and lengths
agree exactly (virtual work). Clamps split a band; only the spans that a hand holds stretch, unless
no hand holds any. The rest, between two feet say, is laid flat and takes its own length. A band
under a shoe is pinned over the sole's breadth: it leaves the shoe at the edge.
"""

import itertools
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from halewright.core.catalogue.movement import BandPath, NodeKind, PathNode
from halewright.core.mechanics import path as ways
from halewright.core.mechanics import points
from halewright.core.mechanics.angles import Array
from halewright.core.mechanics.kinematics import Posture
from halewright.core.mechanics.path import Span

_NO_LENGTH_M = 1e-12


@dataclass(frozen=True, slots=True, kw_only=True)
class Pull:
    """The force of a band on one point, in newtons for each newton of its tension; all (3, N)."""

    owner: str
    at_m: Array
    force_ratio: Array


@dataclass(frozen=True, slots=True, kw_only=True)
class Region:
    """A part of a span in which the tension is the same throughout, (N,) long."""

    length_m: Array
    pulls: tuple[Pull, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """A span that stretches; `friction` holds, for each place between regions, μ times the angle.

    By the capstan equation (Euler 1769, Eytelwein 1808) the tensions on the two sides of such a
    place differ at most by the factor exp(friction); none means that the tension is the same.
    """

    regions: tuple[Region, ...]
    friction: tuple[Array, ...] = ()

    @property
    def length_m(self) -> Array:
        """Return the whole length of the run, (N,)."""
        return sum((each.length_m for each in self.regions), np.zeros_like(self._first))

    @property
    def _first(self) -> Array:
        return self.regions[0].length_m


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """One band over the repetition.

    `strands` lie side by side (2 for a band folded double; 1 for a closed loop, whose two sides
    are in its length already). `flat_m` is what lies flat between two places that no hand holds,
    `pinned_m` what is held under shoes, both for one strand. `hands` hold an end each.
    """

    runs: tuple[Run, ...]
    strands: int
    flat_m: float
    pinned_m: float
    hands: int
    closed: bool

    def slack_m(self, grip_length_m: float) -> float:
        """Return the slack length of one run, when so much band is laid from mark to mark.

        Runs of one band share what is neither flat nor pinned evenly. Zero or less: too short.
        """
        return (grip_length_m - self.flat_m - self.pinned_m) / len(self.runs)

    def grip_length_m(self, slack_m: float) -> float:
        """Return the band from mark to mark in which each run has this slack length."""
        return slack_m * len(self.runs) + self.flat_m + self.pinned_m

    def used_m(self, grip_length_m: float, *, hand_wrap_m: float = 0.0) -> float:
        """Return how much band is needed in all: every strand, and what is wound round hands."""
        return self.strands * grip_length_m + self.hands * hand_wrap_m


def lay(*, posture: Posture, path: BandPath, strands: int | None = None) -> Laid:
    """Return one band as lengths and forces; `strands` None means as many as the file says.

    Raises NoBandWay as `path.lengths` does.
    """
    count = 1 if path.closed else (strands or path.strands)
    hands = len({node.at for node in path.nodes if node.at in points.GRIPS})
    if path.closed:
        runs: tuple[Run, ...] = (_loop(posture=posture, path=path),)
        return Laid(runs=runs, strands=1, flat_m=0.0, pinned_m=0.0, hands=hands, closed=True)
    pieces, pinned_m = _unpinned(posture=posture, path=path, strands=count)
    held = [any(node.at in points.GRIPS for node in piece.nodes) for piece in pieces]
    working, flat_m = [], 0.0
    for piece, in_hand in zip(pieces, held, strict=True):
        run = _run(posture=posture, piece=piece)
        if in_hand or not any(held):
            working.append(run)
        else:
            flat_m += float(run.length_m[0])
    if count > 1:
        working = [_both_edges(posture=posture, path=path, run=run) for run in working]
        hands = min(hands, 1) * 2 if len(path.nodes) == 2 else hands
    return Laid(
        runs=tuple(working),
        strands=count,
        flat_m=flat_m,
        pinned_m=pinned_m,
        hands=hands,
        closed=False,
    )


def _run(*, posture: Posture, piece: BandPath) -> Run:
    (span,) = ways.lengths(posture=posture, path=piece)
    return split(span=span, nodes=piece.nodes)


def split(*, span: Span, nodes: tuple[PathNode, ...]) -> Run:
    """Return a laid span as a run: parted where friction acts, its straight steps as forces."""
    steps = list(itertools.pairwise(range(len(span.course_m))))
    units = {first: _unit(span.course_m[first], span.course_m[last]) for first, last in steps}
    regions: list[Region] = []
    friction: list[Array] = []
    length_m, pulls = np.zeros_like(span.length_m), list[Pull]()
    for first, last in steps:
        here = span.node_indexes[first]
        rough = nodes[here].friction_ratio if first > 0 else 0.0
        if rough > 0.0 and first not in span.arcs_m:
            turn = _turn_rad(span=span, corner=first, units=units)
            regions.append(Region(length_m=length_m, pulls=tuple(pulls)))
            friction.append(rough * turn)
            length_m, pulls = np.zeros_like(span.length_m), []
        if first in span.arcs_m:
            length_m = length_m + span.arcs_m[first]
            continue
        length_m = length_m + _distance_m(span.course_m[first], span.course_m[last])
        unit = units[first]
        pulls += [
            Pull(owner=span.owners[first], at_m=span.course_m[first], force_ratio=unit),
            Pull(owner=span.owners[last], at_m=span.course_m[last], force_ratio=-unit),
        ]
    regions.append(Region(length_m=length_m, pulls=tuple(pulls)))
    return Run(regions=tuple(regions), friction=tuple(friction))


def _turn_rad(*, span: Span, corner: int, units: Mapping[int, Array]) -> Array:
    """Return the angle by which the band turns at a corner or over the arc that ends there."""
    before = corner - 2 if corner - 1 in span.arcs_m else corner - 1
    cosine = (units[before] * units[corner]).sum(axis=0)
    return np.asarray(np.arccos(np.clip(cosine, -1.0, 1.0)), dtype=np.float64)


def _distance_m(a: Array, b: Array) -> Array:
    return np.asarray(np.sqrt(((b - a) ** 2).sum(axis=0)), dtype=np.float64)


def _unit(a: Array, b: Array) -> Array:
    way = b - a
    return np.asarray(way / np.maximum(_distance_m(a, b), _NO_LENGTH_M), dtype=np.float64)


def _loop(*, posture: Posture, path: BandPath) -> Run:
    """Lay a closed loop: round two limbs each feels 2T along the line of centres."""
    if all(node.kind is NodeKind.WRAP for node in path.nodes):
        (span,) = ways.lengths(posture=posture, path=path)
        first_m, second_m = span.course_m
        places = points.places(body=posture.body, chair=posture.chair)
        radii_m = [places[node.at].radius_m or 0.0 for node in path.nodes]
        apart_m = _distance_m(first_m, second_m)
        lean = np.clip(abs(radii_m[0] - radii_m[1]) / np.maximum(apart_m, _NO_LENGTH_M), 0.0, 1.0)
        # d/dd of the belt 2√(d² - δ²) + 2δ·asin(δ/d) + π(R + r) is 2 cos α with sin α = δ/d.
        force = 2.0 * np.sqrt(1.0 - lean**2) * _unit(first_m, second_m)
        pulls = (
            Pull(owner=span.owners[0], at_m=first_m, force_ratio=force),
            Pull(owner=span.owners[1], at_m=second_m, force_ratio=-force),
        )
        return Run(regions=(Region(length_m=span.length_m, pulls=pulls),))
    # Its tension is taken as even all round: which way it creeps is not known.
    smooth = tuple(replace(node, friction_ratio=0.0) for node in path.nodes)
    edged = replace(path, nodes=tuple(_edged(posture=posture, path=replace(path, nodes=smooth))))
    (span,) = ways.lengths(posture=posture, path=edged)
    run = split(span=span, nodes=(*edged.nodes, edged.nodes[0]))
    places = points.places(body=posture.body, chair=posture.chair)
    # A loop that slides at a limb lies half round it; that part's length does not change.
    round_m = sum(np.pi * (places[node.at].radius_m or 0.0) for node in edged.nodes)
    region = run.regions[0]
    return Run(regions=(replace(region, length_m=region.length_m + round_m),))


def _edges(name: str) -> tuple[str, str] | None:
    """Return the outer and inner edge of the sole that a node names, if it names a mid-sole."""
    plain, _, side = name.rpartition("_")
    return (f"sole_outer_{side}", f"sole_inner_{side}") if plain == "sole" else None


def _in_order(
    *, posture: Posture, edges: tuple[str, str], before: str | None, after: str | None
) -> tuple[str, str]:
    """Return a shoe's edges in the order in which the band meets them."""

    def apart_m(one: str | None, other: str) -> float:
        if one is None:
            return 0.0
        return float(_distance_m(posture.point_m(one), posture.point_m(other))[0])

    outer, inner = edges
    straight_m = apart_m(before, outer) + apart_m(after, inner)
    crossed_m = apart_m(before, inner) + apart_m(after, outer)
    return (outer, inner) if straight_m <= crossed_m else (inner, outer)


def _edged(*, posture: Posture, path: BandPath) -> list[PathNode]:
    """Return the nodes with every mid-sole between others replaced by the shoe's two edges."""
    nodes: list[PathNode] = []
    last = len(path.nodes) - 1
    for k, node in enumerate(path.nodes):
        edges = _edges(node.at)
        inside = path.closed or 0 < k < last
        if edges is None or not inside:
            nodes.append(node)
            continue
        ordered = _in_order(
            posture=posture,
            edges=edges,
            before=path.nodes[k - 1].at,
            after=path.nodes[(k + 1) % len(path.nodes)].at,
        )
        nodes += [replace(node, at=at) for at in ordered]
    return nodes


def _unpinned(
    *, posture: Posture, path: BandPath, strands: int
) -> tuple[tuple[BandPath, ...], float]:
    """Return the spans between clamps, and the length pinned under shoes."""
    nodes = _edged(posture=posture, path=path)
    pieces: list[BandPath] = []
    pinned_m = 0.0
    start = 0
    for k in range(1, len(nodes)):
        if nodes[k].kind is not NodeKind.CLAMP and k < len(nodes) - 1:
            continue
        piece = tuple(nodes[start : k + 1])
        start = k
        if len(piece) == 2 and {node.at for node in piece} in _BREADTHS:
            pinned_m += float(
                _distance_m(posture.point_m(piece[0].at), posture.point_m(piece[1].at))[0]
            )
            continue
        pieces.append(BandPath(nodes=piece))
    if strands > 1:
        # Folded round a shoe, half the sole's breadth belongs to either strand.
        ends = [each for node in (nodes[0], nodes[-1]) if (each := _edges(node.at))]
        pinned_m += sum(
            0.5 * float(_distance_m(*(posture.point_m(name) for name in each))[0]) for each in ends
        )
    return tuple(pieces), pinned_m


_BREADTHS = ({"sole_outer_left", "sole_inner_left"}, {"sole_outer_right", "sole_inner_right"})


def _both_edges(*, posture: Posture, path: BandPath, run: Run) -> Run:
    """Let the strands of a folded band leave the shoe at its two edges, half the pull at each."""
    for end, other in ((path.nodes[0], path.nodes[-1]), (path.nodes[-1], path.nodes[0])):
        edges = _edges(end.at)
        if edges is None or len(path.nodes) != 2:
            continue
        sides = [
            _run(posture=posture, piece=BandPath(nodes=(replace(end, at=at), other)))
            for at in edges
        ]
        halves = tuple(
            replace(pull, force_ratio=0.5 * pull.force_ratio)
            for side in sides
            for pull in side.regions[0].pulls
        )
        mean_m = 0.5 * (sides[0].length_m + sides[1].length_m)
        return Run(regions=(Region(length_m=mean_m, pulls=halves),))
    return run
