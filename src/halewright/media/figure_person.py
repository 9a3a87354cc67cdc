"""The person: trunk, head, arms and legs as rounded shapes, from the joints' own places.

Sizes are shares of stature, chosen by eye for a plain, friendly older adult in a teal shirt and
navy trousers; they carry no measurement. Joint places come from the mechanics.
"""

import functools
import itertools
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from halewright.core.mechanics import joints
from halewright.media import figure_head, figure_parts, outline, palette
from halewright.media.camera import Array
from halewright.media.figure_parts import Coat, Part, Sketch
from halewright.media.figure_people import Tones
from halewright.media.outline import Ball

Kept = dict[tuple[str, bytes], list[Part]]
"""Parts drawn before, by name and by where their segments were: what stands still is drawn once."""


def parts(sketch: Sketch, *, kept: Kept | None = None) -> list[Part]:
    """Return every part of the person in this frame, not yet in order of depth.

    `kept` may be passed from frame to frame of one person seen by one camera.
    """
    kept = {} if kept is None else kept
    near = nearer_side(sketch)
    trunk = _once(
        sketch, kept, name="trunk", segments=_TRUNK, draw=functools.partial(_trunk, sketch)
    )
    head = functools.partial(figure_head.parts, sketch)
    found = [*trunk, *_once(sketch, kept, name="head", segments=("head",), draw=head)]
    shirt = trunk[-1].coats[1].shape
    for side in joints.SIDES:
        leg = functools.partial(_leg, sketch, side=side, is_near=side == near)
        segments = ("lower_trunk", f"thigh_{side}", f"shank_{side}", f"foot_{side}")
        found += _once(sketch, kept, name=f"leg {side}", segments=segments, draw=leg)
        found += _arm(sketch, side=side, is_near=side == near, shirt=shirt)
    return found


_TRUNK = ("lower_trunk", "middle_trunk", "upper_trunk")


def _once(
    sketch: Sketch,
    kept: Kept,
    *,
    name: str,
    segments: tuple[str, ...],
    draw: Callable[[], list[Part]],
) -> list[Part]:
    """Return parts from those kept where their segments and the chest are where they were."""
    frame, posture = sketch.frame, sketch.posture
    bearing = (*segments, "upper_trunk")
    places = [posture.origins_m[segment][:, frame] for segment in bearing]
    turns = [posture.axes[segment][:, :, frame].ravel() for segment in bearing]
    key = (name, np.concatenate([*places, *turns]).round(7).tobytes())
    if key not in kept:
        kept[key] = draw()
    return kept[key]


def nearer_side(sketch: Sketch) -> str:
    """Return the side of the body whose shoulder is nearer to the eye."""
    left, right = (sketch.depth_m(f"upper_arm_{side}") for side in joints.SIDES)
    return "left" if left > right else "right"


def _pair(tones: Tones, *, is_near: bool) -> tuple[str, str]:
    """Return a colour and its shade on the near or the far side."""
    return (tones.near, tones.near_shade) if is_near else (tones.far, tones.far_shade)


def _pairs(*balls: Ball) -> tuple[tuple[Ball, Ball], ...]:
    return tuple(itertools.pairwise(balls))


def _trunk_rows(sketch: Sketch) -> list[list[Ball]]:
    """Return the trunk's pairs of spheres, left and right, from the hips to the chest."""
    ball = sketch.ball
    return [
        [ball("lower_trunk", -0.012, y, 0.012, 0.064) for y in (0.040, -0.040)],
        [ball("middle_trunk", 0.002, y, 0.005, 0.060) for y in (0.033, -0.033)],
        [ball("upper_trunk", 0.006, y, -0.010, 0.062) for y in (0.044, -0.044)],
        [ball("upper_trunk", 0.006, y, 0.052, 0.046) for y in (0.056, -0.056)],
    ]


def _trunk_limbs(sketch: Sketch) -> tuple[tuple[Ball, Ball], ...]:
    rows = _trunk_rows(sketch)
    sides = [*_pairs(*(row[0] for row in rows)), *_pairs(*(row[1] for row in rows))]
    return (*sides, *((row[0], row[1]) for row in rows))


def _trunk(sketch: Sketch) -> list[Part]:
    camera, ball = sketch.camera, sketch.ball
    lower, upper = "lower_trunk", "upper_trunk"
    tips = [ball(upper, -0.002, y, 0.066, 0.034) for y in (0.086, -0.086)]
    nape = ball(upper, -0.004, 0.0, 0.098, 0.032)
    rows = _trunk_rows(sketch)
    hulls = [outline.hull(camera, *a, *b) for a, b in itertools.pairwise(rows)]
    hulls.append(outline.hull(camera, *tips, nape))
    shirt = outline.fillet(outline.merged(hulls), 12)
    low = [ball(lower, -0.014, y, -0.006, 0.062) for y in (0.040, -0.040)]
    high = [ball(lower, -0.010, y, 0.026, 0.063) for y in (0.040, -0.040)]
    seat = outline.hull(camera, *low, *high)
    depth_m = sketch.depth_m(upper)
    return [
        Part(
            name="seat",
            depth_m=depth_m - 0.002,
            coats=(figure_parts.halo(seat), Coat(seat, sketch.look.trousers.far)),
        ),
        Part(
            name="trunk",
            depth_m=depth_m,
            coats=(
                figure_parts.halo(shirt),
                Coat(shirt, sketch.look.shirt.near),
                Coat(outline.shade(shirt, right=8, down=5), sketch.look.shirt.near_shade),
            ),
            limbs=_trunk_limbs(sketch),
        ),
    ]


def _leg(sketch: Sketch, *, side: str, is_near: bool) -> list[Part]:
    camera, ball = sketch.camera, sketch.ball
    sign = 1.0 if side == "left" else -1.0
    leg, limbs = _leg_shape(sketch, side=side)
    shank, calf = f"shank_{side}", sketch.body.length_m("shank") / sketch.body.stature_m
    fill, dark = _pair(sketch.look.trousers, is_near=is_near)
    depth_m = sketch.depth_m("upper_trunk") + (0.12 if is_near else 0.06)
    ankle = outline.hull(
        camera, ball(shank, 0.0, 0.0, -calf + 0.045, 0.019), ball(shank, 0.0, 0.0, -calf, 0.021)
    )
    return [
        Part(
            name=f"foot {side}",
            depth_m=depth_m - 0.004,
            coats=(Coat(ankle, sketch.look.skin.near_shade), *_shoe(sketch, side=side, sign=sign)),
            limbs=(_shoe_balls(sketch, side=side, sign=sign),),
        ),
        Part(
            name=f"leg {side}",
            depth_m=depth_m,
            coats=(
                figure_parts.halo(leg),
                Coat(leg, fill),
                Coat(outline.shade(leg, right=3.5, down=6), dark),
            ),
            limbs=limbs,
        ),
    ]


def _leg_shape(sketch: Sketch, *, side: str) -> tuple[BaseGeometry, tuple[tuple[Ball, Ball], ...]]:
    """Return a trouser leg's silhouette and the spheres it is made of."""
    camera, ball = sketch.camera, sketch.ball
    sign = 1.0 if side == "left" else -1.0
    thigh, shank = f"thigh_{side}", f"shank_{side}"
    length = sketch.body.length_m("thigh") / sketch.body.stature_m
    calf = sketch.body.length_m("shank") / sketch.body.stature_m
    hip = ball(thigh, -0.004, sign * 0.004, -0.012, 0.056)
    above = ball(thigh, 0.003, 0.0, -length + 0.008, 0.0375)
    knee = ball(shank, 0.003, 0.0, 0.0, 0.0365)
    belly = ball(shank, -0.008, 0.0, -0.080, 0.0360)
    hem = ball(shank, -0.002, 0.0, -calf + 0.034, 0.0255)
    leg = outline.fillet(outline.chain(camera, hip, above, knee, belly, hem), 10)
    return leg, _pairs(hip, above, knee, belly, hem)


def leg_outline(sketch: Sketch, side: str) -> BaseGeometry:
    """Return the silhouette of one leg with its shoe, for a ghost."""
    shoe = _shoe(sketch, side=side, sign=1.0 if side == "left" else -1.0)
    return outline.merged([_leg_shape(sketch, side=side)[0], shoe[1].shape, shoe[2].shape])


@dataclass(frozen=True, slots=True, kw_only=True)
class _Arm:
    """An arm's silhouettes and the spheres at its joints."""

    bare: BaseGeometry
    lower: BaseGeometry
    fist: BaseGeometry
    sleeve: BaseGeometry
    shoulder: Ball
    elbow: Ball
    cuff: Ball
    palm: tuple[Ball, Ball]


def _arm_shapes(sketch: Sketch, *, side: str) -> _Arm:
    camera, ball = sketch.camera, sketch.ball
    sign = 1.0 if side == "left" else -1.0
    upper, fore, hand = f"upper_arm_{side}", f"forearm_{side}", f"hand_{side}"
    reach = sketch.body.length_m("upper_arm") / sketch.body.stature_m
    wrist = sketch.body.length_m("forearm") / sketch.body.stature_m
    shoulder = ball(upper, 0.0, 0.0, 0.0, 0.031)
    elbow = ball(fore, 0.0, 0.0, 0.0, 0.0235)
    bulge = ball(fore, 0.002, 0.0, -0.042, 0.0245)
    cuff = ball(fore, 0.0, 0.0, -wrist, 0.0165)
    bare = outline.hull(
        camera, ball(upper, 0.0, 0.0, -0.07, 0.026), ball(upper, 0, 0, -reach, 0.0235)
    )
    lower = outline.fillet(outline.chain(camera, elbow, bulge, cuff), 6)
    fist = _fist(sketch, hand=hand, sign=sign)
    sleeve = outline.hull(
        camera,
        ball(upper, 0.0, sign * -0.004, 0.006, 0.0365),
        ball(upper, 0.0, 0.0, -0.092, 0.0315),
    )
    return _Arm(
        bare=bare,
        lower=lower,
        fist=fist,
        sleeve=sleeve,
        shoulder=shoulder,
        elbow=elbow,
        cuff=cuff,
        palm=(ball(hand, 0.0, 0.0, -0.010, 0.0165), ball(hand, 0.0, 0.0, -0.040, 0.0215)),
    )


def arm_outline(sketch: Sketch, side: str) -> BaseGeometry:
    """Return the silhouette of one arm with its hand, for a ghost."""
    shapes = _arm_shapes(sketch, side=side)
    return outline.merged([shapes.bare, shapes.lower, shapes.fist, shapes.sleeve])


_HEEL, _TIP = -0.030, 0.100


def _under(sketch: Sketch) -> float:
    # The sole's underside is where the mechanics has it: ankle height and shoe below the joint.
    return -(sketch.body.ankle_height_m + sketch.body.sole_m) / sketch.body.stature_m


def _shoe_balls(sketch: Sketch, *, side: str, sign: float) -> tuple[Ball, Ball]:
    foot, low = f"foot_{side}", _under(sketch) + 0.013
    return (
        sketch.ball(foot, _HEEL + 0.010, 0, low + 0.012, 0.0245),
        sketch.ball(foot, 0.070, sign * 0.005, low + 0.008, 0.0205),
    )


def _shoe(sketch: Sketch, *, side: str, sign: float) -> list[Coat]:
    camera, foot = sketch.camera, f"foot_{side}"
    under = _under(sketch)
    heel, tip, low = _HEEL, _TIP, under + 0.013

    def ball(x: float, y: float, z: float, radius: float) -> Ball:
        return sketch.ball(foot, x, sign * y, z, radius)

    back, front = _shoe_balls(sketch, side=side, sign=sign)
    hulls = [
        outline.hull(camera, back, ball(0, 0, 0, 0.0255)),
        outline.hull(camera, back, front, ball(0.018, 0, low + 0.026, 0.0245)),
        outline.hull(camera, front, ball(tip - 0.004, 0.003, low + 0.004, 0.0160)),
    ]
    upper = outline.fillet(outline.merged(hulls), 5)
    rim = [(heel, 0.013), (heel, -0.013), (0.070, 0.021), (0.070, -0.021)]
    rim += [(tip + 0.006, 0.010), (tip + 0.006, -0.007)]
    sole = outline.hull(camera, *(ball(x, y, under + 0.006, 0.006) for x, y in rim))
    return [
        figure_parts.halo(outline.merged([upper, sole])),
        Coat(sole, palette.SHOE_SOLE),
        *figure_parts.shaded(upper, fill=palette.SHOE, dark=palette.SHOE_SHADE),
    ]


def _arm(sketch: Sketch, *, side: str, is_near: bool, shirt: BaseGeometry) -> list[Part]:
    shapes = _arm_shapes(sketch, side=side)
    skin, dark = _pair(sketch.look.skin, is_near=is_near)
    above_m, below_m, hand_m = _arm_depths(sketch, side=side, is_near=is_near)
    is_before = above_m > sketch.depth_m("upper_trunk")
    sleeve = _sleeve(sketch, side=side, shapes=shapes, shirt=shirt) if is_before else shapes.sleeve
    elbow = outline.fillet(outline.merged([shapes.bare, shapes.lower]), 5)
    rim = outline.widen(outline.merged([shapes.lower, shapes.fist]), figure_parts.HALO_PX)
    joined = outline.widen(outline.merged([shapes.bare, sleeve]), 0.5)
    outer = shapes.bare.difference(sleeve) if is_before else outline.merged([sleeve, shapes.bare])
    cloth_fill, cloth_dark = _pair(sketch.look.shirt, is_near=is_near)
    cloth = figure_parts.shaded(
        sleeve, fill=cloth_fill, dark=cloth_dark, px=4.0 if is_near else 3.0
    )
    upper = (
        figure_parts.halo(outer),
        *(_creases(sketch, sleeve=sleeve, shirt=shirt) if is_before else ()),
        Coat(elbow.intersection(outline.widen(shapes.bare, 4)), skin),
        Coat(outline.shade(shapes.bare, right=3, down=4), dark),
        *cloth,
    )
    lower = (
        Coat(rim.difference(joined), palette.GROUND),
        *figure_parts.shaded(shapes.lower, fill=skin, dark=dark),
    )
    hand = (
        *figure_parts.shaded(shapes.fist, fill=skin, dark=dark, px=2.5),
        *(Coat(crease, dark) for crease in _creased(sketch, side=side, fist=shapes.fist)),
    )
    upper_limbs = _pairs(shapes.shoulder, shapes.elbow)
    lower_limbs = _pairs(shapes.elbow, shapes.cuff)
    return [
        Part(name=f"upper arm {side}", depth_m=above_m, coats=upper, limbs=upper_limbs),
        Part(name=f"forearm {side}", depth_m=below_m, coats=lower, limbs=lower_limbs),
        Part(name=f"hand {side}", depth_m=hand_m, coats=hand, limbs=(shapes.palm,)),
    ]


def _sleeve(sketch: Sketch, *, side: str, shapes: _Arm, shirt: BaseGeometry) -> BaseGeometry:
    """Return a sleeve that grows out of the shirt's shoulder without a seam."""
    sign = 1.0 if side == "left" else -1.0
    root = sketch.ball("upper_trunk", -0.002, sign * 0.070, 0.070, 0.030)
    yoke = outline.hull(sketch.camera, shapes.shoulder, root)
    return outline.fillet(outline.merged([shapes.sleeve, yoke.intersection(shirt)]), 8)


def _creases(sketch: Sketch, *, sleeve: BaseGeometry, shirt: BaseGeometry) -> tuple[Coat, ...]:
    """Return the fold that the near sleeve throws on the shirt."""
    fold = outline.widen(sleeve, 2.2).intersection(shirt).difference(sleeve)
    below = affinity.translate(sleeve, 4, 4).intersection(shirt).difference(sleeve)
    return (Coat(outline.merged([fold, below]), sketch.look.shirt.near_shade),)


def _arm_depths(sketch: Sketch, *, side: str, is_near: bool) -> tuple[float, float, float]:
    """Return the depths of upper arm, forearm and hand: before or behind the trunk as they are."""
    trunk_m = sketch.depth_m("upper_trunk")
    if is_near:
        return trunk_m + 0.30, trunk_m + 0.31, trunk_m + 0.311
    shoulder, elbow, hand, tip = (
        sketch.at(f"upper_arm_{side}", 0.0, 0.0, 0.0),
        sketch.at(f"forearm_{side}", 0.0, 0.0, 0.0),
        sketch.at(f"hand_{side}", 0.0, 0.0, 0.0),
        sketch.at(f"hand_{side}", 0.0, 0.0, -0.05),
    )
    before = [
        _is_before_the_trunk(sketch, start=start, end=end)
        for start, end in ((shoulder, elbow), (elbow, hand), (hand, tip))
    ]
    # A limb is never behind the one that it grows out of where that is in front.
    return (
        trunk_m + (0.20 if before[0] else -0.20),
        trunk_m + (0.21 if before[1] else -0.19),
        trunk_m + (0.211 if before[1] or before[2] else -0.189),
    )


def _is_before_the_trunk(sketch: Sketch, *, start: Array, end: Array) -> bool:
    """Return whether an arm's piece passes before the trunk where the two overlap."""
    shares = np.linspace(0.0, 1.0, 9)
    at_m = start[:, None] + (end - start)[:, None] * shares
    over, behind = figure_parts.covers(
        sketch.camera, limbs=_trunk_limbs(sketch), at_m=at_m, margin_m=0.0
    )
    return bool(over.any() and behind[over].mean() < 0.5)


def _fist(sketch: Sketch, *, hand: str, sign: float) -> BaseGeometry:
    camera, ball = sketch.camera, sketch.ball
    palm = outline.hull(
        camera,
        ball(hand, 0.0, 0.0, -0.010, 0.0165),
        ball(hand, 0.008, 0.0, -0.040, 0.0215),
        ball(hand, -0.008, 0.0, -0.040, 0.0215),
    )
    thumb = outline.hull(
        camera,
        ball(hand, 0.017, -sign * 0.006, -0.018, 0.0085),
        ball(hand, 0.021, -sign * 0.014, -0.038, 0.0085),
    )
    return outline.fillet(outline.merged([palm, thumb]), 4)


def _creased(sketch: Sketch, *, side: str, fist: BaseGeometry) -> list[BaseGeometry]:
    """Return the lines between the fingers of a closed hand, on the side that is seen."""
    hand, sign = f"hand_{side}", 1.0 if side == "left" else -1.0
    if sketch.facing(hand, 0.0, sign, 0.0) < 0.0:
        sign = -sign
    lines = []
    for x in (-0.012, -0.001, 0.010):
        ends = [sketch.ball(hand, x, sign * 0.019, z, 0.0011) for z in (-0.036, -0.056)]
        lines.append(outline.hull(sketch.camera, *ends).intersection(outline.widen(fist, -0.8)))
    return lines
