"""The chair: boxes with flat face tones, from the geometry that the mechanics sits people on."""

import functools
import math
from collections.abc import Mapping
from dataclasses import replace

import numpy as np
import shapely

from halewright.core.catalogue.words import Position
from halewright.core.mechanics.chair import Chair
from halewright.media import camera as cameras
from halewright.media import figure_seats, outline, palette
from halewright.media.camera import Array, Camera
from halewright.media.figure_parts import Coat, Part, Sketch
from halewright.media.figure_seats import Seat

_WOOD = (palette.WOOD_SHADE, palette.WOOD, palette.WOOD_LIGHT)
_PAD = (palette.PAD_SHADE, palette.PAD, palette.PAD_LIGHT)
"""The tones of a box's front, side and top."""
_LEAN_RAD = math.radians(-7.0)
"""The back leans this much from upright: common practice."""


def parts(sketch: Sketch, *, position: Position, seat: Seat = Seat.CHAIR) -> list[Part]:
    """Return the chair's parts: behind a sitter, before a person who holds its back.

    Only a person who stays seated is shown on another `seat`.
    """
    chair, camera = sketch.posture.chair, sketch.camera
    if position is Position.SEATED and seat is Seat.WHEELCHAIR:
        return figure_seats.wheelchair(sketch)
    if position is Position.SEATED and seat is Seat.WITH_ARMS:
        chair = replace(chair, has_arms=True)
    trunk_m = sketch.depth_m("upper_trunk")
    is_held = position is Position.SUPPORTED_STANDING
    # Whole chair before or behind the person; within it, boxes by their own depth.
    level_m = trunk_m + 0.25 if is_held else trunk_m - 0.6
    boxes = _boxes(chair)
    coats = _coats(chair, azimuth_deg=camera.azimuth_deg, elevation_deg=camera.elevation_deg)
    depths = {name: float(camera.depth_m(box[0])) for name, box in boxes.items()}
    order = sorted(boxes, key=lambda name: (name.startswith(("seat", "pad")), depths[name]))
    if chair_back_is_nearest(camera):
        order.sort(key=lambda name: name.startswith(("post", "rest")))
    else:
        order.sort(key=lambda name: not name.startswith(("post", "rest")))
        order.sort(key=lambda name: not name.startswith("leg rear"))
    found = [
        Part(
            name=f"chair {name}",
            depth_m=level_m + 0.004 * rank,
            coats=coats[name],
        )
        for rank, name in enumerate(order)
    ]
    return found + (_arms(camera, chair=chair, trunk_m=trunk_m) if chair.has_arms else [])


@functools.lru_cache(maxsize=16)
def _coats(
    chair: Chair, *, azimuth_deg: float, elevation_deg: float
) -> Mapping[str, tuple[Coat, ...]]:
    """Return every box's coats, kept from frame to frame: a chair does not move."""
    camera = cameras.camera(azimuth_deg=azimuth_deg, elevation_deg=elevation_deg)
    return {name: _box(camera, *box) for name, box in _boxes(chair).items()}


def _arms(camera: Camera, *, chair: Chair, trunk_m: float) -> list[Part]:
    """Return the chair's arms: the nearer before the person but under their hand."""
    top_m, post_m = chair.seat_height_m + chair.arm_above_seat_m, chair.arm_above_seat_m
    long_m = chair.front_m + chair.rear_m - 0.02
    middle_m = chair.x_m + 0.5 * (chair.front_m - chair.rear_m)
    found = []
    for side, y in (("left", chair.half_width_m), ("right", -chair.half_width_m)):
        # Seen from the front quarter, the right arm of the chair is the nearer one.
        level_m = trunk_m + (0.26 if camera.towards[1] * y > 0.0 else -0.35)
        rest = (np.array([middle_m, y, top_m - 0.014]), np.array([long_m, 0.05, 0.028]))
        post = (
            np.array([chair.x_m + chair.front_m - 0.04, y, top_m - 0.5 * post_m - 0.02]),
            np.array([chair.leg_m, chair.leg_m, post_m]),
        )
        for rank, (name, box) in enumerate((("post", post), ("rest", rest))):
            coats = _box(camera, *box, 0.0, _WOOD)
            found.append(
                Part(name=f"chair arm {name} {side}", depth_m=level_m + 0.01 * rank, coats=coats)
            )
    return found


def chair_back_is_nearest(camera: Camera) -> bool:
    """Return whether the eye is behind the chair."""
    return float(camera.towards[0]) < 0.0


def _boxes(chair: Chair) -> dict[str, tuple[Array, Array, float, tuple[str, str, str]]]:
    """Return each box as its centre, size, lean, and tones."""
    seat_m, width_m, leg_m = chair.seat_height_m, 2.0 * chair.half_width_m, chair.leg_m
    inset_m = chair.half_width_m - 0.025
    depth_m = chair.front_m + chair.rear_m
    middle_m = 0.5 * (chair.front_m - chair.rear_m)
    boxes: dict[str, tuple[Array, Array, float, tuple[str, str, str]]] = {}

    def add(
        name: str,
        at: tuple[float, float, float],
        size: tuple[float, float, float],
        lean: float = 0.0,
        tones: tuple[str, str, str] = _WOOD,
    ) -> None:
        centre = np.array([at[0] + chair.x_m, at[1], at[2]])
        boxes[name] = (centre, np.array(size), lean, tones)

    for name, y in (("left", inset_m), ("right", -inset_m)):
        tall_m = seat_m - 0.055
        add(f"leg front {name}", (chair.front_m - 0.025, y, tall_m / 2), (leg_m, leg_m, tall_m))
        add(f"leg rear {name}", (0.022 - chair.rear_m, y, tall_m / 2), (leg_m, leg_m, tall_m))
        back_m = chair.back_above_seat_m
        add(
            f"post {name}",
            (-chair.rear_m - 0.012, y, seat_m + back_m / 2 - 0.02),
            (0.032, leg_m, back_m + 0.04),
            _LEAN_RAD,
        )
    add("seat frame", (middle_m, 0.0, seat_m - 0.062), (depth_m - 0.02, width_m - 0.02, 0.036))
    add("pad", (middle_m, 0.0, seat_m - 0.024), (depth_m, width_m, 0.044), 0.0, _PAD)
    add(
        "rest",
        (-chair.rear_m - 0.032, 0.0, seat_m + chair.back_above_seat_m - 0.12),
        (0.036, width_m - 0.07, 0.20),
        _LEAN_RAD,
        _PAD,
    )
    return boxes


def _box(
    camera: Camera, centre: Array, size: Array, lean_rad: float, tones: tuple[str, str, str]
) -> tuple[Coat, ...]:
    """Return the visible faces of a box, on a halo of their outline."""
    cosine, sine = math.cos(lean_rad), math.sin(lean_rad)
    turn = np.array([[cosine, 0.0, sine], [0.0, 1.0, 0.0], [-sine, 0.0, cosine]])
    faces = []
    for axis, tone in ((2, tones[2]), (1, tones[1]), (0, tones[0])):
        for sign in (1.0, -1.0):
            if float(camera.towards @ (turn[:, axis] * sign)) <= 1e-3:
                continue
            u, v = (axis + 1) % 3, (axis + 2) % 3
            corners = np.zeros((4, 3))
            corners[:, axis] = 0.5 * sign * size[axis]
            corners[:, u] = 0.5 * size[u] * np.array([1, -1, -1, 1])
            corners[:, v] = 0.5 * size[v] * np.array([1, 1, -1, -1])
            flat = camera.flat(centre[:, None] + turn @ corners.T)
            faces.append((shapely.polygons(flat.T), tone))
    whole = outline.merged([outline.widen(face, 0.3) for face, _ in faces])
    coats = [Coat(outline.widen(whole, 1.6), palette.GROUND)]
    coats += [Coat(outline.widen(face, 0.4).intersection(whole), tone) for face, tone in faces]
    return tuple(coats)
