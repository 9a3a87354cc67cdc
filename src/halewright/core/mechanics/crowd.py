"""Many people at once, for given joint angles: each frame may be of another person.

The same chain, forces and weight as for one person, in arrays long enough for numpy to be quick.
Keep chunks to `CHUNK` frames: longer ones no longer fit a processor's cache.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from halewright.core.catalogue.movement import BandPath, NodeKind
from halewright.core.mechanics import gravity, kinematics, moments, points, spans
from halewright.core.mechanics.angles import Array
from halewright.core.mechanics.chair import Chair
from halewright.core.mechanics.path import NoBandWay, Span
from halewright.core.mechanics.skeleton import SEGMENTS, Body
from halewright.core.mechanics.spans import Run

CHUNK = 4_000
NO_CHAIR = Chair(x_m=0.0, seat_height_m=0.0)
"""A chair that no asked point is on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Crowd:
    """N frames of people: every segment's joint, centre (3, N) and mass (N,), and named places.

    `places` holds the owner of each point and where it is in the owner's axes, (3, N).
    """

    joints_m: Mapping[str, Array]
    centres_m: Mapping[str, Array]
    masses_kg: Mapping[str, Array]
    places: Mapping[str, tuple[str, Array]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What was asked of a crowd, for each of N frames.

    `runs` hold the band's lengths and forces; `band_nm` the net joint moment vectors, (3, N), for
    each newton of tension in each run, `weight_nm` those that balance the body's weight.
    """

    runs: tuple[Run, ...]
    band_nm: tuple[Mapping[str, Array], ...]
    weight_nm: Mapping[str, Array]


def gathered(*, bodies: Sequence[Body], whose: npt.NDArray[np.intp], names: Sequence[str]) -> Crowd:
    """Return a crowd of N frames, `whose` (N,) saying which body each frame is of.

    `names` are the points that will be asked for. Raises KeyError for an unknown one.
    """

    def spread(rows: list[tuple[float, ...]]) -> Array:
        return np.ascontiguousarray(np.array(rows, dtype=np.float64)[whose].T)

    placed = [points.places(body=body, chair=NO_CHAIR) for body in bodies]
    return Crowd(
        joints_m={
            name: spread([body.segment(name).joint_m for body in bodies]) for name in SEGMENTS
        },
        centres_m={
            name: spread([body.segment(name).centre_m for body in bodies]) for name in SEGMENTS
        },
        masses_kg={
            name: spread([(body.segment(name).mass_kg,) for body in bodies])[0] for name in SEGMENTS
        },
        places={
            name: (placed[0][name].owner, spread([each[name].at_m for each in placed]))
            for name in names
        },
    )


def asked(*, crowd: Crowd, angles_rad: Mapping[str, Array], path: BandPath) -> Found:
    """Return lengths, forces, moments and weight for straight bands between clamps and slides.

    The hips' midpoint is at zero: only what does not depend on the chair can be asked. Raises
    NoBandWay for a wrap, a closed loop or a point that the crowd was not given.
    """
    if path.closed or any(node.kind is NodeKind.WRAP for node in path.nodes):
        raise NoBandWay("a crowd's band goes straight from point to point")
    origins_m, axes = kinematics.chain_of(joints_m=crowd.joints_m, angles_rad=angles_rad)
    corners = []
    for node in path.nodes:
        if node.at not in crowd.places:
            raise NoBandWay(f"the crowd was not given the point “{node.at}”")
        owner, local_m = crowd.places[node.at]
        corners.append((owner, origins_m[owner] + kinematics.along(axes[owner], local_m)))
    runs = tuple(_runs(path=path, corners=corners))
    centres_m = {
        name: origins_m[name] + kinematics.along(axes[name], crowd.centres_m[name])
        for name in SEGMENTS
    }
    weight = gravity.moments_nm(origins_m=origins_m, centres_m=centres_m, masses_kg=crowd.masses_kg)
    return Found(
        runs=runs,
        band_nm=tuple(
            moments.balancing(
                origins_m=origins_m,
                pulls=[pull for region in run.regions for pull in region.pulls],
            )
            for run in runs
        ),
        weight_nm={joint: -weight[segment] for joint, segment in moments.JOINTS.items()},
    )


def _runs(*, path: BandPath, corners: list[tuple[str, Array]]) -> Iterator[Run]:
    """Yield a run for each stretch between clamps."""
    start = 0
    for end in range(1, len(path.nodes)):
        if path.nodes[end].kind is not NodeKind.CLAMP and end < len(path.nodes) - 1:
            continue
        part = corners[start : end + 1]
        span = Span(
            length_m=np.zeros(part[0][1].shape[1]),
            course_m=tuple(at_m for _, at_m in part),
            owners=tuple(owner for owner, _ in part),
            node_indexes=tuple(range(len(part))),
        )
        yield spans.split(span=span, nodes=path.nodes[start : end + 1])
        start = end
