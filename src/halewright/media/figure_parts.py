"""What a figure is made of: parts with a depth, coats of colour, and spheres to hide things by."""

from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
import numpy.typing as npt
from shapely.geometry.base import BaseGeometry

from halewright.core.mechanics.kinematics import Posture
from halewright.core.mechanics.skeleton import Body
from halewright.media import figure_people, outline, palette
from halewright.media.camera import SCALE, Array, Camera
from halewright.media.figure_people import Look
from halewright.media.outline import Ball

HALO_PX = 2.6
_WIDENS = (
    "lower_trunk",
    "middle_trunk",
    "upper_trunk",
    "upper_arm",
    "forearm",
    "thigh",
    "shank",
)
"""Segments that are drawn wider on a broader person; heads, hands and feet are not."""


@dataclass(frozen=True, slots=True)
class Coat:
    """One shape in one colour."""

    shape: BaseGeometry
    fill: str


def halo(shape: BaseGeometry) -> Coat:
    """Return the rim in the ground's colour that parts a shape from what is behind it."""
    return Coat(outline.widen(shape, HALO_PX), palette.GROUND)


def shaded(shape: BaseGeometry, *, fill: str, dark: str, px: float = 3.0) -> tuple[Coat, Coat]:
    """Return a shape in its colour with a crescent of shade this wide at the lower right."""
    return Coat(shape, fill), Coat(outline.shade(shape, right=px, down=px + 1.0), dark)


@dataclass(frozen=True, kw_only=True)
class Part:
    """A piece drawn together; greater `depth_m` is nearer and drawn later.

    `limbs` are the pairs of spheres it is made of, for deciding whether it hides the band. Without
    slots, so that the silhouette is worked out once.
    """

    name: str
    depth_m: float
    coats: tuple[Coat, ...]
    limbs: tuple[tuple[Ball, Ball], ...] = field(default=())

    @cached_property
    def silhouette(self) -> BaseGeometry:
        """Return all that the part covers."""
        return outline.merged([coat.shape for coat in self.coats])


@dataclass(frozen=True, slots=True, kw_only=True)
class Sketch:
    """One frame of a posture seen by a camera; places are in shares of stature."""

    posture: Posture
    frame: int
    camera: Camera
    look: Look = figure_people.DEFAULT

    @property
    def body(self) -> Body:
        """Return the body that is drawn."""
        return self.posture.body

    def at(self, segment: str, x: float, y: float, z: float) -> Array:
        """Return a place in a segment's axes, given in shares of stature, as world metres."""
        local = np.array([x, y, z]) * self.body.stature_m
        frame = self.posture.axes[segment][:, :, self.frame]
        moved: Array = self.posture.origins_m[segment][:, self.frame] + frame @ local
        return moved

    def ball(self, segment: str, x: float, y: float, z: float, radius: float) -> Ball:
        """Return a sphere in a segment's axes; all in shares of stature."""
        girth = self.look.girth_ratio if segment.startswith(_WIDENS) else 1.0
        aside = girth * y if "trunk" in segment else y
        return Ball(self.at(segment, x, aside, z), girth * radius * self.body.stature_m)

    def facing(self, segment: str, x: float, y: float, z: float) -> float:
        """Return how much a direction of a segment points to the eye, -1 to 1."""
        way = self.posture.axes[segment][:, :, self.frame] @ np.array([x, y, z])
        return float(self.camera.towards @ way) / float(np.linalg.norm(way))

    def depth_m(self, segment: str, x: float = 0.0, y: float = 0.0, z: float = 0.0) -> float:
        """Return the depth of a place in a segment's axes."""
        return float(self.camera.depth_m(self.at(segment, x, y, z)))


Truths = npt.NDArray[np.bool_]


def covers(
    camera: Camera, *, limbs: tuple[tuple[Ball, Ball], ...], at_m: Array, margin_m: float
) -> tuple[Truths, Truths]:
    """Return where any limb's silhouette is over places (3, K), and its middle line nearer too.

    The middle line, not the surface: a band lies against the skin, and one drawn straight through
    the rim of a limb really passes before it.
    """
    first_m = np.stack([limb[0].at_m for limb in limbs], axis=1)
    last_m = np.stack([limb[1].at_m for limb in limbs], axis=1)
    radii_m = np.array([(limb[0].radius_m, limb[1].radius_m) for limb in limbs])
    start = camera.flat(first_m) / SCALE
    along = camera.flat(last_m) / SCALE - start
    off = (camera.flat(at_m) / SCALE)[:, None, :] - start[:, :, None]
    squared = (along**2).sum(axis=0)[:, None]
    share = np.clip((along[:, :, None] * off).sum(axis=0) / np.maximum(squared, 1e-9), 0.0, 1.0)
    # Seen end on, a limb's middle stands for its line.
    share = np.where(squared > 1e-9, share, 0.5)
    miss_m = np.hypot(*(off - along[:, :, None] * share))
    over = miss_m < radii_m[:, :1] + (radii_m[:, 1:] - radii_m[:, :1]) * share + margin_m
    near_m, far_m = camera.depth_m(first_m)[:, None], camera.depth_m(last_m)[:, None]
    behind = over & (near_m + (far_m - near_m) * share > camera.depth_m(at_m)[None, :])
    return over.any(axis=0), behind.any(axis=0)
