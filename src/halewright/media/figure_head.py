"""The head: throat, face, grey hair in a bun, and the features that this view shows."""

from collections.abc import Callable

from shapely.geometry.base import BaseGeometry

from halewright.media import figure_parts, outline, palette
from halewright.media.figure_parts import Coat, Part, Sketch
from halewright.media.outline import Ball

_SIZE = 1.07
"""A head slightly larger than life reads better from the back of a hall."""
_EYE_INSET_PX = 1.2
"""An eye nearer than this to the face's edge would seem to slip off it."""
_BallAt = Callable[[float, float, float, float], Ball]
"""Places a sphere on the head: x, y, z and radius in shares of stature."""


def parts(sketch: Sketch) -> list[Part]:
    """Return the head and its halo."""
    camera = sketch.camera
    depth_m = sketch.depth_m("upper_trunk") + 0.004

    def ball(x: float, y: float, z: float, radius: float) -> Ball:
        return sketch.ball("head", _SIZE * x + 0.006, _SIZE * y, _SIZE * z - 0.032, _SIZE * radius)

    throat = outline.hull(
        camera,
        sketch.ball("upper_trunk", 0.004, 0.0, 0.100, 0.029),
        ball(0.008, 0.0, 0.045, 0.026),
    )
    crown, chin = ball(0.010, 0.0, 0.100, 0.049), ball(0.028, 0.0, 0.060, 0.028)
    jaw = ball(0.014, 0.0, 0.064, 0.037)
    nose = (
        ball(0.050, 0, 0.09, 0.006),
        ball(0.061, 0, 0.0745, 0.007),
        ball(0.048, 0, 0.073, 0.008),
    )
    hulls = [outline.hull(camera, *balls) for balls in ((crown, chin), (crown, jaw), nose)]
    face = outline.fillet(outline.merged(hulls), 6)
    hair = _hair(sketch, ball=ball)
    bun = outline.hull(camera, ball(-0.058, 0.0, 0.104, 0.022), ball(-0.050, 0.0, 0.100, 0.022))
    coats = (
        *figure_parts.shaded(bun, fill=palette.HAIR, dark=palette.HAIR_SHADE),
        Coat(throat, palette.SKIN_SHADE),
        *figure_parts.shaded(face, fill=palette.SKIN, dark=palette.SKIN_SHADE),
        *figure_parts.shaded(hair, fill=palette.HAIR, dark=palette.HAIR_SHADE),
        *_ears(sketch, ball=ball),
        *_features(sketch, ball=ball, face=face),
    )
    limbs = ((crown, jaw), (crown, chin))
    rim = figure_parts.halo(outline.merged([face, hair, bun]))
    return [
        Part(name="head", depth_m=depth_m + 0.02, coats=coats, limbs=limbs),
        Part(name="head halo", depth_m=depth_m, coats=(rim,)),
    ]


def _hair(sketch: Sketch, *, ball: _BallAt) -> BaseGeometry:
    camera = sketch.camera
    cap = outline.hull(camera, ball(0.004, 0.0, 0.105, 0.053), ball(-0.016, 0.0, 0.086, 0.046))
    bare = outline.hull(
        camera,
        ball(0.082, 0.022, 0.060, 0.050),
        ball(0.082, -0.022, 0.060, 0.050),
        ball(0.050, 0.022, 0.030, 0.046),
        ball(0.050, -0.022, 0.030, 0.046),
        ball(0.066, 0.0, 0.096, 0.028),
    )
    fringe = outline.hull(
        camera,
        ball(0.036, 0.012, 0.130, 0.021),
        ball(0.036, -0.012, 0.130, 0.021),
        ball(-0.010, 0.030, 0.122, 0.035),
        ball(-0.010, -0.030, 0.122, 0.035),
    )
    top = outline.merged([cap.difference(bare), fringe.intersection(outline.widen(cap, 2))])
    return outline.soften(outline.fillet(top, 3), 1.6)


def _ears(sketch: Sketch, *, ball: _BallAt) -> list[Coat]:
    coats = []
    for sign in (1.0, -1.0):
        if sketch.facing("head", 0.0, sign, 0.0) > 0.0:
            ear = outline.hull(
                sketch.camera,
                ball(-0.003, sign * 0.046, 0.079, 0.0100),
                ball(-0.001, sign * 0.045, 0.069, 0.0075),
            )
            coats += [
                Coat(ear, palette.SKIN),
                Coat(outline.shade(ear, right=2, down=2), palette.SKIN_SHADE),
            ]
    return coats


def _features(sketch: Sketch, *, ball: _BallAt, face: BaseGeometry) -> list[Coat]:
    """Draw eyes, brows and mouth where that side of the face is seen, well inside its edge."""
    camera = sketch.camera
    inside = outline.widen(face, -_EYE_INSET_PX)
    coats = []
    for sign in (1.0, -1.0):
        if sketch.facing("head", 0.86, sign * 0.5, 0.0) < 0.2:
            continue
        eye = outline.hull(
            camera,
            ball(0.0505, sign * 0.0165, 0.0915, 0.0040),
            ball(0.0505, sign * 0.0165, 0.0885, 0.0040),
        )
        if not inside.contains(eye):
            continue
        brow = outline.hull(
            camera,
            ball(0.051, sign * 0.0115, 0.1035, 0.0022),
            ball(0.048, sign * 0.0235, 0.1025, 0.0022),
        )
        coats += [Coat(eye, palette.INK), Coat(brow.intersection(face), palette.HAIR_SHADE)]
    if sketch.facing("head", 1.0, 0.0, 0.0) > -0.15:
        shares = (-1.0, -0.5, 0.0, 0.5, 1.0)
        smile = outline.chain(
            camera,
            *(
                ball(0.0505 - 0.004 * s * s, 0.0125 * s, 0.0525 + 0.0055 * s * s, 0.0020)
                for s in shares
                if sketch.facing("head", 0.9, 0.45 * s, 0.0) > -0.05
            ),
        )
        coats.append(Coat(smile.intersection(face), palette.LIP))
    return coats
