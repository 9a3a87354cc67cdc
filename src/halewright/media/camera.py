"""The eye that looks at a figure: parallel projection, so that a sphere is a circle everywhere."""

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]

SCALE = 400.0
"""Picture units to the metre; the same for every figure, so that people keep their size."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Camera:
    """A direction to look from, as unit vectors: to the eye, rightwards and upwards in the picture.

    Picture x goes right, picture y down, both 0 at the world's origin.
    """

    azimuth_deg: float
    elevation_deg: float
    towards: Array
    right: Array
    up: Array
    onto: Array
    """The two rows that turn world metres into picture units, (2, 3)."""

    def flat(self, at_m: Array) -> Array:
        """Return picture coordinates of points (3,) or (3, K), as (2,) or (2, K)."""
        return np.asarray(self.onto @ at_m, dtype=np.float64)

    def depth_m(self, at_m: Array) -> Array:
        """Return how near to the eye points are; greater is nearer."""
        return np.asarray(self.towards @ at_m, dtype=np.float64)


def camera(*, azimuth_deg: float, elevation_deg: float) -> Camera:
    """Return the camera at these angles: azimuth 0 is the person's right side, 90 their front."""
    azimuth_rad, elevation_rad = math.radians(azimuth_deg), math.radians(elevation_deg)
    level = math.cos(elevation_rad)
    right = np.array([math.cos(azimuth_rad), math.sin(azimuth_rad), 0.0])
    towards = np.array(
        [
            math.sin(azimuth_rad) * level,
            -math.cos(azimuth_rad) * level,
            math.sin(elevation_rad),
        ]
    )
    up = np.cross(towards, right)
    return Camera(
        azimuth_deg=azimuth_deg,
        elevation_deg=elevation_deg,
        towards=towards,
        right=right,
        up=up,
        onto=SCALE * np.stack([right, -up]),
    )
