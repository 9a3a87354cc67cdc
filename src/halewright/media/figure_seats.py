"""What a seated person may be shown on: a chair, a chair with arms, or a wheelchair."""

import math
from enum import StrEnum

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from halewright.core.mechanics.chair import Chair
from halewright.media import outline, palette
from halewright.media.camera import SCALE, Array, Camera
from halewright.media.figure_parts import Coat, Part, Sketch, halo


class Seat(StrEnum):
    """The seat of a figure; it does not change how the person sits."""

    CHAIR = "chair"
    WITH_ARMS = "with_arms"
    WHEELCHAIR = "wheelchair"


_WHEEL_M, _CASTER_M = 0.30, 0.085
"""Radii of an ordinary transit chair's wheels: common practice."""
_TYRE_M, _TUBE_M = 0.026, 0.022
_OUT_M = 0.05
"""How far the wheels stand outside the seat."""
_SPOKES = 8


def wheelchair(sketch: Sketch) -> list[Part]:
    """Return a wheelchair about the seat: brakes on, footplates folded away, feet on the floor."""
    chair, camera = sketch.posture.chair, sketch.camera
    trunk_m = sketch.depth_m("upper_trunk")
    parts = [
        Part(name="wheelchair seat", depth_m=trunk_m - 0.55, coats=_seat(camera, chair=chair)),
        Part(name="wheelchair back", depth_m=trunk_m - 0.6, coats=_back(camera, chair=chair)),
    ]
    for side, sign in (("left", 1.0), ("right", -1.0)):
        is_near = float(camera.towards[1]) * sign > 0.05
        parts.append(
            Part(
                name=f"wheelchair wheels {side}",
                depth_m=trunk_m + (0.27 if is_near else -0.7),
                coats=_wheels(camera, chair=chair, sign=sign),
            )
        )
    return parts


def _tube(camera: Camera, *places: tuple[float, float, float]) -> BaseGeometry:
    flat = camera.flat(np.array(places).T)
    line = shapely.LineString(flat.T)
    return line.buffer(0.5 * _TUBE_M * SCALE, 6, cap_style="round", join_style="round")


def _ring(camera: Camera, *, at: tuple[float, float, float], radius_m: float) -> Array:
    turns = np.linspace(0.0, 2.0 * math.pi, 5 * _SPOKES + 1)
    x, z = at[0] + radius_m * np.cos(turns), at[2] + radius_m * np.sin(turns)
    return camera.flat(np.stack([x, np.full(turns.size, at[1]), z]))


def _wheels(camera: Camera, *, chair: Chair, sign: float) -> tuple[Coat, ...]:
    """Return one side: tyre and spokes, caster, and the frame that carries them."""
    hub = (chair.x_m - 0.08, sign * (chair.half_width_m + _OUT_M), _WHEEL_M)
    caster = (chair.x_m + chair.front_m + 0.04, sign * chair.half_width_m, _CASTER_M)
    tyre = outline.ribbon(_ring(camera, at=hub, radius_m=_WHEEL_M - 0.5 * _TYRE_M), 10.0)
    small = outline.ribbon(_ring(camera, at=caster, radius_m=_CASTER_M - 0.012), 9.0)
    frame = _frame(camera, chair=chair, inner_m=sign * chair.half_width_m, caster=caster)
    metal = outline.merged([*_spokes(camera, hub=hub), frame])
    rubber = outline.merged([tyre, small])
    return (halo(frame), Coat(metal, palette.PAD_SHADE), Coat(rubber, palette.INK))


def _spokes(camera: Camera, *, hub: tuple[float, float, float]) -> list[BaseGeometry]:
    rim = _ring(camera, at=hub, radius_m=_WHEEL_M - _TYRE_M)
    middle = camera.flat(np.array(hub))
    ends = rim[:, :: (rim.shape[1] - 1) // _SPOKES].T
    return [outline.ribbon(np.stack([middle, end], axis=1), 1.2) for end in ends]


def _frame(
    camera: Camera, *, chair: Chair, inner_m: float, caster: tuple[float, float, float]
) -> BaseGeometry:
    """Return seat rail, armrest and their posts on one side."""
    seat_m, front_m = chair.seat_height_m - 0.03, chair.x_m + chair.front_m
    rear_m, rest_m = chair.x_m - chair.rear_m, chair.seat_height_m + chair.arm_above_seat_m
    rail = _tube(camera, (rear_m, inner_m, seat_m), (front_m, inner_m, seat_m), caster)
    rest = _tube(camera, (rear_m, inner_m, rest_m), (front_m - 0.10, inner_m, rest_m))
    post_m = front_m - 0.12
    post = _tube(camera, (post_m, inner_m, rest_m), (post_m, inner_m, seat_m))
    return outline.merged([rail, rest, post])


def _slab(camera: Camera, *corners: tuple[float, float, float]) -> BaseGeometry:
    flat = camera.flat(np.array(corners).T)
    return outline.widen(shapely.convex_hull(shapely.multipoints(flat.T)), 5.0)


def _corners(chair: Chair) -> tuple[float, float, float, float]:
    rear, front = chair.x_m - chair.rear_m, chair.x_m + chair.front_m
    return rear, front, chair.seat_height_m - 0.02, chair.half_width_m - 0.02


def _seat(camera: Camera, *, chair: Chair) -> tuple[Coat, ...]:
    rear, front, high_m, wide_m = _corners(chair)
    sides = (wide_m, -wide_m)
    slab = _slab(camera, *((x, y, high_m) for x in (rear, front) for y in sides))
    return (halo(slab), Coat(slab, palette.PAD))


def _back(camera: Camera, *, chair: Chair) -> tuple[Coat, ...]:
    rear, _, high_m, wide_m = _corners(chair)
    top_m, sides = chair.seat_height_m + chair.back_above_seat_m - 0.04, (wide_m, -wide_m)
    lean_m = rear - 0.05
    places = [(rear, y, high_m + 0.04) for y in sides] + [(lean_m, y, top_m) for y in sides]
    slab = _slab(camera, *places)
    handles = [
        _tube(
            camera, (rear, y, high_m), (lean_m, y, top_m + 0.05), (lean_m - 0.10, y, top_m + 0.04)
        )
        for y in sides
    ]
    posts = outline.merged(handles)
    return (
        halo(outline.merged([slab, posts])),
        Coat(posts, palette.PAD_SHADE),
        Coat(slab, palette.PAD),
    )
