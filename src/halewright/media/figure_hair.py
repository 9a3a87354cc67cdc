"""Hair, or what covers it, in the six styles that people may be drawn with."""

from collections.abc import Callable

from shapely.geometry.base import BaseGeometry

from halewright.media import figure_parts, outline
from halewright.media.camera import Camera
from halewright.media.figure_parts import Coat, Sketch
from halewright.media.figure_people import HairStyle
from halewright.media.outline import Ball

BallAt = Callable[[float, float, float, float], Ball]
"""Places a sphere on the head: x, y, z and radius in shares of stature."""

_CURLS = (
    (0.030, 0.0, 0.140),
    (0.000, 0.026, 0.144),
    (0.000, -0.026, 0.144),
    (-0.030, 0.0, 0.138),
    (0.022, 0.036, 0.124),
    (0.022, -0.036, 0.124),
    (-0.024, 0.040, 0.112),
    (-0.024, -0.040, 0.112),
    (-0.048, 0.014, 0.104),
    (-0.048, -0.014, 0.104),
    (-0.034, 0.030, 0.080),
    (-0.034, -0.030, 0.080),
)


def behind(sketch: Sketch, *, ball: BallAt) -> tuple[Coat, ...]:
    """Return the coats that lie behind the face: a bun, or a scarf's fall."""
    look, camera = sketch.look, sketch.camera
    if look.style is HairStyle.BUN:
        shape = outline.hull(
            camera, ball(-0.058, 0.0, 0.104, 0.022), ball(-0.050, 0.0, 0.100, 0.022)
        )
    elif look.style is HairStyle.BOB:
        low = [ball(-0.018, y, 0.052, 0.024) for y in (0.028, -0.028)]
        high = [ball(-0.012, y, 0.095, 0.034) for y in (0.020, -0.020)]
        shape = outline.hull(camera, *low, *high)
    else:
        return ()
    return figure_parts.shaded(shape, fill=look.hair, dark=look.hair_shade)


def round_neck(sketch: Sketch, *, ball: BallAt) -> tuple[Coat, ...]:
    """Return the folds of a headscarf about the throat, or nothing."""
    look = sketch.look
    if look.style is not HairStyle.SCARF:
        return ()
    shoulders = [sketch.ball("upper_trunk", 0.0, y, 0.088, 0.030) for y in (0.028, -0.028)]
    chin = [ball(0.010, y, 0.030, 0.028) for y in (0.014, -0.014)]
    shape = outline.fillet(outline.hull(sketch.camera, *shoulders, *chin), 4)
    return figure_parts.shaded(shape, fill=look.hair, dark=look.hair_shade)


def over(sketch: Sketch, *, ball: BallAt) -> BaseGeometry:
    """Return the silhouette of hair over the face and skull."""
    camera, style = sketch.camera, sketch.look.style
    cap = outline.hull(camera, ball(0.004, 0.0, 0.105, 0.053), ball(-0.016, 0.0, 0.086, 0.046))
    bare = _bare(camera, ball=ball)
    if style is HairStyle.BALD:
        fringe = outline.hull(
            camera, ball(-0.006, 0.0, 0.088, 0.050), ball(-0.016, 0.0, 0.082, 0.046)
        )
        crown = outline.hull(camera, ball(0.016, 0.0, 0.132, 0.050), ball(0.060, 0.0, 0.110, 0.050))
        return outline.soften(fringe.difference(outline.merged([bare, crown])), 1.6)
    if style is HairStyle.CURLS:
        knots = [outline.hull(camera, ball(x, y, z, 0.020)) for x, y, z in _CURLS]
        shown = outline.merged([cap, *knots]).difference(outline.widen(bare, 1.0))
        return outline.soften(outline.fillet(shown, 2), 1.2)
    forward = 0.036 if style is not HairStyle.SHORT else 0.028
    fringe = outline.hull(
        camera,
        ball(forward, 0.012, 0.130, 0.021),
        ball(forward, -0.012, 0.130, 0.021),
        ball(-0.010, 0.030, 0.122, 0.035),
        ball(-0.010, -0.030, 0.122, 0.035),
    )
    top = outline.merged([cap.difference(bare), fringe.intersection(outline.widen(cap, 2))])
    return outline.soften(outline.fillet(top, 3), 1.6)


def _bare(camera: Camera, *, ball: BallAt) -> BaseGeometry:
    """Return the part of the head that no hair covers: face and cheeks."""
    return outline.hull(
        camera,
        ball(0.082, 0.022, 0.060, 0.050),
        ball(0.082, -0.022, 0.060, 0.050),
        ball(0.050, 0.022, 0.030, 0.046),
        ball(0.050, -0.022, 0.030, 0.046),
        ball(0.066, 0.0, 0.096, 0.028),
    )
