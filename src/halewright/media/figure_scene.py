"""The scene of a figure: how much of it is shown, and what is painted in which order."""

import html
from dataclasses import dataclass

import numpy as np

from halewright.core.catalogue.movement import Option
from halewright.core.catalogue.words import Position
from halewright.core.mechanics import joints
from halewright.core.mechanics.kinematics import Posture
from halewright.media import figure_band, figure_chair, figure_person, outline, palette
from halewright.media.camera import SCALE, Array, Camera
from halewright.media.figure_parts import Coat, Part, Sketch
from halewright.media.figure_seats import Seat

_MARGIN = 16.0
_BODY_PX = 0.085 * SCALE
"""Heads, hands and shoes reach this far beyond the points of the mechanics."""
_GRID = 10.0
_LABELS_APART = 24.0
_LABEL_BELOW = 26.0
MOVES_M = 0.10
"""A limb that moves less is not shown with a ghost or an arrow."""
SHOWS_M = 0.035
_SMALL_WAY_M = 0.15
"""A smaller movement than `MOVES_M` still has its way shown, drawn as long as this."""
_SMALL_POINTS = (
    "face",
    *(f"{name}_{side}" for name in ("grip", "toe", "heel", "knee") for side in ("right", "left")),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """The part of the picture plane that is shown."""

    left: float
    top: float
    width: float
    height: float

    @property
    def view_box(self) -> str:
        """Return the SVG attribute."""
        return f"{self.left:g} {self.top:g} {self.width:g} {self.height:g}"


def extent(*, postures: tuple[Posture, ...], eye: Camera) -> Frame:
    """Return a frame that holds person, chair and floor over the whole repetition."""
    clouds = [eye.flat(at) for posture in postures for at in posture.points_m().values()]
    middle, wide, tall = _floor_round(posture=postures[0], eye=eye)
    clouds.append(middle[:, None] + np.array([[-wide, wide], [-tall, tall]]) - _BODY_PX * 0.5)
    clouds += [_chair_corners(posture=postures[0], eye=eye)]
    flat = np.concatenate(clouds, axis=1)
    margin = _MARGIN + _BODY_PX
    low = np.floor((flat.min(axis=1) - margin) / _GRID) * _GRID
    high = np.ceil((flat.max(axis=1) + margin) / _GRID) * _GRID
    return Frame(
        left=float(low[0]),
        top=float(low[1]),
        width=float(high[0] - low[0]),
        height=float(high[1] - low[1]),
    )


def _chair_corners(*, posture: Posture, eye: Camera) -> Array:
    chair = posture.chair
    ends = (chair.x_m - chair.rear_m, chair.x_m + chair.front_m)
    sides = (-chair.half_width_m, chair.half_width_m)
    return eye.flat(np.array([(x, y, 0.0) for x in ends for y in sides]).T)


def _floor_round(*, posture: Posture, eye: Camera) -> tuple[Array, float, float]:
    middle = eye.flat(np.array([0.5 * posture.chair.x_m + 0.16, 0.0, 0.0]))
    wide = (0.56 + 0.3 * posture.chair.x_m) * SCALE
    return middle, wide, wide * max(0.07, float(eye.towards[2]))


def floor(*, posture: Posture, eye: Camera) -> str:
    """Return the soft round of floor under person and chair, as SVG in picture units."""
    middle, wide, tall = _floor_round(posture=posture, eye=eye)
    return (
        f'<ellipse cx="{middle[0]:.0f}" cy="{middle[1]:.0f}" rx="{wide:.0f}" ry="{tall:.0f}" '
        f'fill="{palette.FLOOR}"/>'
    )


def painted(
    sketch: Sketch,
    *,
    option: Option,
    ghost: Sketch | None,
    seat: Seat = Seat.CHAIR,
    kept: figure_person.Kept | None = None,
) -> list[tuple[str, str]]:
    """Return fill attributes and path data from back to front, in fine units."""
    person = figure_person.parts(sketch, kept=kept)
    chair = figure_chair.parts(sketch, position=option.position, seat=seat)
    band = figure_band.parts(sketch, paths=option.paths, person=person)
    held = {
        node.at.replace("grip_", "hand ")
        for path in option.paths
        for node in path.nodes
        if node.at.startswith("grip_")
    }
    over = [_before(part, person=person) for part in person if part.name in held]
    parts: list[Part] = sorted([*person, *chair], key=lambda part: part.depth_m)
    drawn = [
        (coat.fill, data)
        for part in [*parts, *band, *over]
        for coat in part.coats
        if (data := outline.path_d(coat.shape))
    ]
    is_faint = ghost is not None and option.position is not Position.RISING
    faint = _ghost(sketch, ghost=ghost) if ghost is not None and is_faint else []
    return [*faint, *drawn]


def _before(hand: Part, *, person: list[Part]) -> Part:
    """Return a hand to be painted over its band, less what is nearer than the hand."""
    nearer = [
        part.silhouette
        for part in person
        if part.depth_m > hand.depth_m + 0.002
        and part.name.startswith(("trunk", "head", "upper arm", "forearm"))
        and part.silhouette.intersects(hand.silhouette)
    ]
    if not nearer:
        return hand
    cover = outline.merged(nearer)
    coats = tuple(Coat(coat.shape.difference(cover), coat.fill) for coat in hand.coats)
    return Part(name=hand.name, depth_m=hand.depth_m, coats=coats, limbs=hand.limbs)


def _ghost(sketch: Sketch, *, ghost: Sketch) -> list[tuple[str, str]]:
    """Return faint shapes of the limbs where they began, for those that have moved."""
    faint = []
    for side in joints.SIDES:
        for name, fill, limb in (
            ("grip", sketch.look.skin.near, figure_person.arm_outline),
            ("toe", sketch.look.trousers.near, figure_person.leg_outline),
        ):
            now = sketch.posture.point_m(f"{name}_{side}")[:, sketch.frame]
            then = ghost.posture.point_m(f"{name}_{side}")[:, ghost.frame]
            if float(np.linalg.norm(now - then)) > MOVES_M:
                faint.append((f'{fill}" opacity=".3', outline.path_d(limb(ghost, side))))
    return faint


def side_labels(sketch: Sketch, *, words: tuple[str, str]) -> str:
    """Return the words for left and right under the feet, as SVG in picture units.

    Where the feet lie over each other only the nearer one is labelled; empty words give nothing.
    """
    flat = {}
    for side in joints.SIDES:
        at_m = sketch.posture.point_m(f"toe_{side}")[:, sketch.frame]
        flat[side] = (sketch.camera.flat(at_m), float(sketch.camera.depth_m(at_m)))
    nearer = max(joints.SIDES, key=lambda side: flat[side][1])
    apart = float(np.linalg.norm(flat["left"][0] - flat["right"][0]))
    found = []
    for side, word in zip(joints.SIDES, words, strict=True):
        if word and (apart > _LABELS_APART or side == nearer):
            x, y = flat[side][0]
            found.append(f'<text x="{x:.0f}" y="{y + _LABEL_BELOW:.0f}">{html.escape(word)}</text>')
    if not found:
        return ""
    return (
        f'<g font-size="17" font-weight="700" text-anchor="middle" fill="{palette.INK}" '
        f'stroke="{palette.GROUND}" stroke-width="4" paint-order="stroke">{"".join(found)}</g>'
    )


def trace(*, option: Option, posture: Posture, eye: Camera) -> str:
    """Return the dotted way of what moves most, with an arrow's head, as SVG in picture units.

    `posture` runs over the whole repetition. A small movement's way is drawn larger than it is, so
    that it can be seen at all; empty where nothing moves far enough even for that.
    """
    name = _leading_point(option=option, posture=posture, eye=eye)
    way = eye.flat(posture.point_m(name))
    if _length(way) < MOVES_M * SCALE:
        name = max(_SMALL_POINTS, key=lambda point: _length(eye.flat(posture.point_m(point))))
        way = eye.flat(posture.point_m(name))
        long = _length(way)
        if long < SHOWS_M * SCALE:
            return ""
        middle = way.mean(axis=1)[:, None]
        way = middle + (way - middle) * _SMALL_WAY_M * SCALE / long
    gone = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(way, axis=1)))))
    beside = _beside(name, way=way, posture=posture, eye=eye)
    marks = np.linspace(0.10, 0.86, 16) * gone[-1]
    line = np.stack([np.interp(marks, gone, way[k]) + SCALE * beside[k] for k in (0, 1)])
    return _arrow(line)


def _length(way: Array) -> float:
    return float(np.hypot(*np.diff(way, axis=1)).sum())


def _beside(name: str, *, way: Array, posture: Posture, eye: Camera) -> Array:
    """Return how far from the point itself its way is drawn, in metres right and down.

    Beside the limb rather than on it: over hands and knees, before or over the head, outside the
    feet.
    """
    if name.startswith(("toe", "heel")):
        knee = name.replace("toe", "knee").replace("heel", "knee")
        out = (way - eye.flat(posture.point_m(knee))).mean(axis=1)
        beside: Array = 0.10 * out / max(float(np.linalg.norm(out)), 1e-9)
        return beside
    if name == "face":
        return np.array([0.0, -0.19])
    return np.array([0.20, 0.04]) if name == "crown" else np.array([0.0, -0.13])


def _leading_point(*, option: Option, posture: Posture, eye: Camera) -> str:
    """Return the point whose way tells the movement: hand, knee or foot; the head in a rise."""
    if option.position is Position.RISING:
        return "crown"

    def travelled(name: str) -> float:
        return _length(eye.flat(posture.point_m(name)))

    # The right side works where the sides differ, and is the nearer one; a knee's way says more
    # than that of the foot it carries along, and feet hardly matter while the hands travel.
    weights = {"grip": 1.3, "knee": 1.5, "toe": 1.0}
    found = {
        f"{name}_{side}": weight * (1.02 if side == "right" else 1.0) * travelled(f"{name}_{side}")
        for name, weight in weights.items()
        for side in joints.SIDES
    }
    return max(found, key=lambda name: found[name])


def _arrow(line: Array) -> str:
    ahead = line[:, -1] - line[:, -3]
    ahead = ahead / max(float(np.linalg.norm(ahead)), 1e-9)
    across = np.array([-ahead[1], ahead[0]])
    foot = line[:, -1] - 3.0 * ahead
    head = [line[:, -1] + 13.0 * ahead, foot + 8.0 * across, foot - 8.0 * across]
    dots = "L".join(f"{x:.0f} {y:.0f}" for x, y in line.T)
    tip = "L".join(f"{x:.0f} {y:.0f}" for x, y in head)
    return (
        f'<g stroke-linecap="round" stroke-linejoin="round"><g fill="none" '
        f'stroke-dasharray="0 8.5"><path d="M{dots}" stroke="{palette.GROUND}" '
        f'stroke-width="6.6"/><path d="M{dots}" stroke="{palette.INK}" stroke-width="3.6"/></g>'
        f'<path d="M{tip}Z" fill="{palette.INK}" stroke="{palette.GROUND}" stroke-width="3" '
        f'paint-order="stroke"/></g>'
    )
