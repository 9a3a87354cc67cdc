"""The head: throat, face, hair, and the features and glasses that this view shows."""

import math

import numpy as np
from shapely.geometry.base import BaseGeometry

from halewright.media import figure_hair, figure_parts, outline, palette
from halewright.media.camera import Array
from halewright.media.figure_hair import BallAt
from halewright.media.figure_parts import Coat, Part, Sketch
from halewright.media.figure_people import HairStyle
from halewright.media.outline import Ball

_SIZE = 1.07
"""A head slightly larger than life reads better from the back of a hall."""
_RIM_PX = 1.5
_EYE_INSET_PX = 1.2
"""An eye nearer than this to the face's edge would seem to slip off it."""


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
    crown, jaw, chin = _skull(ball)
    face = _face(sketch, ball=ball)
    look = sketch.look
    hair = figure_hair.over(sketch, ball=ball)
    behind = figure_hair.behind(sketch, ball=ball)
    folds = figure_hair.round_neck(sketch, ball=ball)
    coats = (
        *behind,
        Coat(throat, look.skin.near_shade),
        *folds,
        *figure_parts.shaded(face, fill=look.skin.near, dark=look.skin.near_shade),
        *figure_parts.shaded(hair, fill=look.hair, dark=look.hair_shade),
        *_ears(sketch, ball=ball),
        *_features(sketch, ball=ball, face=face),
        *_glasses(sketch, ball=ball),
    )
    limbs = ((crown, jaw), (crown, chin))
    rim = figure_parts.halo(
        outline.merged([face, hair, *(coat.shape for coat in (*behind, *folds))])
    )
    return [
        Part(name="head", depth_m=depth_m + 0.02, coats=coats, limbs=limbs),
        Part(name="head halo", depth_m=depth_m, coats=(rim,)),
    ]


def _skull(ball: BallAt) -> tuple[Ball, Ball, Ball]:
    """Return crown, jaw and chin."""
    crown, jaw = ball(0.010, 0.0, 0.100, 0.049), ball(0.014, 0.0, 0.064, 0.037)
    return crown, jaw, ball(0.028, 0.0, 0.060, 0.028)


def _face(sketch: Sketch, *, ball: BallAt) -> BaseGeometry:
    crown, jaw, chin = _skull(ball)
    ridge, tip = ball(0.050, 0.0, 0.090, 0.006), ball(0.061, 0.0, 0.0745, 0.007)
    nose = (ridge, tip, ball(0.048, 0.0, 0.073, 0.008))
    hulls = [outline.hull(sketch.camera, *balls) for balls in ((crown, chin), (crown, jaw), nose)]
    return outline.fillet(outline.merged(hulls), 6)


def _ears(sketch: Sketch, *, ball: BallAt) -> list[Coat]:
    coats: list[Coat] = []
    if sketch.look.style is HairStyle.SCARF:
        return coats
    for sign in (1.0, -1.0):
        if sketch.facing("head", 0.0, sign, 0.0) > 0.0:
            ear = outline.hull(
                sketch.camera,
                ball(-0.003, sign * 0.046, 0.079, 0.0100),
                ball(-0.001, sign * 0.045, 0.069, 0.0075),
            )
            coats += [
                Coat(ear, sketch.look.skin.near),
                Coat(outline.shade(ear, right=2, down=2), sketch.look.skin.near_shade),
            ]
            if sketch.look.has_hearing_aid:
                coats.append(Coat(_hearing_aid(sketch, ball=ball, sign=sign), palette.PAD_SHADE))
    return coats


def _features(sketch: Sketch, *, ball: BallAt, face: BaseGeometry) -> list[Coat]:
    """Draw eyes, brows and mouth where that side of the face is seen, well inside its edge."""
    camera = sketch.camera
    inside = outline.widen(face, -_EYE_INSET_PX)
    look = sketch.look
    brow_fill = palette.INK if look.style is HairStyle.SCARF else look.hair_shade
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
        if look.eye_white:
            white = ball(0.0495, sign * 0.0165, 0.0900, 0.0070)
            coats.append(Coat(outline.hull(camera, white).intersection(inside), look.eye_white))
        coats += [Coat(eye, palette.INK), Coat(brow.intersection(face), brow_fill)]
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


def _hearing_aid(sketch: Sketch, *, ball: BallAt, sign: float) -> BaseGeometry:
    """Return the little case behind the ear, with its tube."""
    case = outline.hull(
        sketch.camera,
        ball(-0.0150, sign * 0.047, 0.0800, 0.0050),
        ball(-0.0140, sign * 0.047, 0.0700, 0.0042),
    )
    tube = outline.chain(
        sketch.camera,
        ball(-0.0140, sign * 0.047, 0.0840, 0.0018),
        ball(-0.0060, sign * 0.047, 0.0890, 0.0018),
        ball(0.0030, sign * 0.047, 0.0840, 0.0018),
    )
    return outline.merged([case, tube])


def _glasses(sketch: Sketch, *, ball: BallAt) -> list[Coat]:
    """Return rims, bridge and temples as this view shows them."""
    if not sketch.look.has_glasses or sketch.facing("head", 1.0, 0.0, 0.0) < -0.15:
        return []
    turns = np.linspace(0.0, 2.0 * math.pi, 20)
    shapes = []
    for sign in (1.0, -1.0):
        rim = [
            ball(
                0.0560, sign * 0.0175 + 0.0125 * math.cos(turn), 0.0895 + 0.0105 * math.sin(turn), 0
            )
            for turn in turns
        ]
        if sketch.facing("head", 0.86, sign * 0.5, 0.0) >= 0.2:
            shapes.append(outline.ribbon(_flat(sketch, rim), _RIM_PX))
        if sketch.facing("head", 0.0, sign, 0.0) > 0.0:
            temple = [
                ball(0.0560, sign * 0.030, 0.0910, 0),
                ball(0.0300, sign * 0.045, 0.0900, 0),
                ball(0.0000, sign * 0.046, 0.0870, 0),
            ]
            shapes.append(outline.ribbon(_flat(sketch, temple), _RIM_PX))
    bridge = [ball(0.0600, y, 0.0905, 0) for y in (-0.005, 0.005)]
    shapes.append(outline.ribbon(_flat(sketch, bridge), _RIM_PX))
    return [Coat(outline.merged(shapes), palette.INK)]


def _flat(sketch: Sketch, balls: list[Ball]) -> Array:
    return sketch.camera.flat(np.stack([ball.at_m for ball in balls], axis=1))
