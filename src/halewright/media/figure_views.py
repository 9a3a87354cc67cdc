"""From where a figure is best seen: a score of how much of what moves, and of the band, shows."""

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from halewright.core.catalogue.movement import Option
from halewright.core.catalogue.words import Position
from halewright.core.mechanics import joints
from halewright.core.mechanics import path as band_ways
from halewright.core.mechanics.kinematics import Posture
from halewright.media import camera as cameras
from halewright.media.camera import Array, Camera


class View(StrEnum):
    """From where the figure is seen.

    THREE_QUARTER and SIDE are the better of the two front quarters, and the best of both sides and
    the front; the others are fixed. Right and left are those of the person drawn.
    """

    THREE_QUARTER = "three_quarter"
    SIDE = "side"
    RIGHT_QUARTER = "right_quarter"
    LEFT_QUARTER = "left_quarter"
    RIGHT_SIDE = "right_side"
    LEFT_SIDE = "left_side"
    FRONT = "front"


_QUARTERS = (View.RIGHT_QUARTER, View.LEFT_QUARTER)
_SIDES = (View.RIGHT_SIDE, View.LEFT_SIDE, View.FRONT)
_SIDES_BEHIND_A_CHAIR = _SIDES[:2]
"""From the front, a chair that somebody stands behind hides their legs."""

_USUAL = {View.RIGHT_QUARTER: 0.06, View.RIGHT_SIDE: 0.12, View.LEFT_SIDE: 0.06}
"""The usual view is kept unless another is clearly better."""
_POINTS = ("grip", "elbow", "shoulder", "knee", "ankle", "toe")
_STILL_M = 0.02
"""A point that moves less does not count as moving."""
_ON_BAND = np.linspace(0.04, 0.96, 9)
_CAPSULES = (
    ("upper_arm", 0.033),
    ("forearm", 0.022),
    ("thigh", 0.048),
    ("shank", 0.032),
)
"""Limbs that hide things, with radii in shares of stature as they are drawn."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Bars:
    """C capsules in one frame: both ends (3, C) and radii (C,)."""

    start_m: Array
    end_m: Array
    radius_m: Array


def best(*, option: Option, posture: Posture) -> tuple[View, View]:
    """Return the better front quarter, and the best of the sides and the front.

    `posture` runs over the repetition; its last frame is the far end.
    """
    return (
        _best(option=option, posture=posture, views=_QUARTERS),
        _best(option=option, posture=posture, views=_sides(option)),
    )


def eye(*, option: Option, posture: Posture, view: View) -> Camera:
    """Return where a view looks from.

    A movement that goes sideways, or takes the arms overhead past the face, is seen more from the
    front; a person who holds a chair more from the side, so that the chair does not hide them.
    """
    if view is View.THREE_QUARTER:
        view = _best(option=option, posture=posture, views=_QUARTERS)
    elif view is View.SIDE:
        view = _best(option=option, posture=posture, views=_sides(option))
    return _camera(option=option, posture=posture, view=view)


def _sides(option: Option) -> tuple[View, ...]:
    is_behind = option.position is Position.SUPPORTED_STANDING
    return _SIDES_BEHIND_A_CHAIR if is_behind else _SIDES


def _camera(*, option: Option, posture: Posture, view: View) -> Camera:
    if view in (View.RIGHT_SIDE, View.LEFT_SIDE):
        azimuth_deg = 0.0 if view is View.RIGHT_SIDE else 180.0
        return cameras.camera(azimuth_deg=azimuth_deg, elevation_deg=4.0)
    if view is View.FRONT:
        # A loop round level thighs is seen edge on from straight ahead: look from higher up.
        is_looped = any(path.closed for path in option.paths)
        return cameras.camera(azimuth_deg=90.0, elevation_deg=24.0 if is_looped else 8.0)
    if _goes_sideways(posture) or _goes_overhead(posture):
        azimuth_deg, elevation_deg = 58.0, 13.0
    elif option.position is Position.SUPPORTED_STANDING:
        azimuth_deg, elevation_deg = 30.0, 10.0
    else:
        azimuth_deg, elevation_deg = 38.0, 10.0
    if view is View.LEFT_QUARTER:
        azimuth_deg = 180.0 - azimuth_deg
    return cameras.camera(azimuth_deg=azimuth_deg, elevation_deg=elevation_deg)


def _goes_sideways(posture: Posture) -> bool:
    """Return whether hands, knees and feet move more to the sides than forward or up."""
    sideways_m = ahead_m = 0.0
    for name in ("grip", "knee", "toe"):
        for side in joints.SIDES:
            moved = np.ptp(posture.point_m(f"{name}_{side}"), axis=1)
            sideways_m += float(moved[1])
            ahead_m += float(np.hypot(moved[0], moved[2]))
    return sideways_m > 0.03 and sideways_m > ahead_m


def _goes_overhead(posture: Posture) -> bool:
    crown_m = posture.point_m("crown")[2]
    return any(bool(np.any(posture.point_m(f"grip_{side}")[2] > crown_m)) for side in joints.SIDES)


def _best(*, option: Option, posture: Posture, views: tuple[View, ...]) -> View:
    scores = {
        view: _USUAL.get(view, 0.0) + score(option=option, posture=posture, view=view)
        for view in views
    }
    return max(views, key=lambda view: scores[view])


def score(*, option: Option, posture: Posture, view: View) -> float:
    """Return how well a view shows a movement: 0 nothing of it, 1 all of it.

    The mean of three shares: of the moving points' ways that lie across the line of sight, of the
    moving points that no limb hides at the far end, and of the band that none hides there. What
    does not exist is left out of the mean; where nothing moves, arms and legs count as moving.
    """
    looking = _camera(option=option, posture=posture, view=view)
    names = _moving(posture)
    shares = []
    ways_m = [posture.point_m(name) for name in names]
    whole_m = sum(_length_m(way) for way in ways_m)
    if whole_m > _STILL_M:
        across = sum(_length_m(looking.flat(way)) for way in ways_m) / cameras.SCALE
        shares.append(across / whole_m)
    bars = _bars(posture)
    ends_m = np.stack([way[:, -1] for way in ways_m], axis=1)
    shares.append(1.0 - float(_hidden(looking, bars=bars, at_m=ends_m).mean()))
    band_m = _band(option=option, posture=posture)
    if band_m.size:
        shares.append(1.0 - float(_hidden(looking, bars=bars, at_m=band_m).mean()))
    return float(np.mean(shares))


def _length_m(way: Array) -> float:
    return float(np.linalg.norm(np.diff(way, axis=1), axis=0).sum())


def _moving(posture: Posture) -> tuple[str, ...]:
    names = tuple(f"{name}_{side}" for name in _POINTS for side in joints.SIDES)
    moving = tuple(name for name in names if _length_m(posture.point_m(name)) > _STILL_M)
    return moving or names


def _band(*, option: Option, posture: Posture) -> Array:
    """Return places along every band at the far end, (3, K)."""
    places = []
    for path in option.paths:
        for span in band_ways.lengths(posture=posture, path=path):
            for a, b in zip(span.course_m[:-1], span.course_m[1:], strict=True):
                start, end = a[:, -1:], b[:, -1:]
                places.append(start + (end - start) * _ON_BAND)
    return np.concatenate(places, axis=1) if places else np.zeros((3, 0))


def _bars(posture: Posture) -> _Bars:
    """Return limbs and trunk at the far end as capsules; the trunk is two columns side by side."""
    body = posture.body
    starts, ends, radii = [], [], []
    for side in joints.SIDES:
        for plain, ratio in _CAPSULES:
            starts.append(posture.origins_m[f"{plain}_{side}"][:, -1])
            tip = (0.0, 0.0, -body.length_m(plain))
            ends.append(posture.located_m(owner=f"{plain}_{side}", at_m=tip)[:, -1])
            radii.append(ratio * body.stature_m)
        sign = 1.0 if side == "left" else -1.0
        aside_m = sign * 0.044 * body.stature_m
        starts.append(posture.located_m(owner="lower_trunk", at_m=(0.0, aside_m, 0.0))[:, -1])
        high = (0.0, aside_m, 0.05 * body.stature_m)
        ends.append(posture.located_m(owner="upper_trunk", at_m=high)[:, -1])
        radii.append(0.06 * body.stature_m)
    return _Bars(
        start_m=np.stack(starts, axis=1), end_m=np.stack(ends, axis=1), radius_m=np.array(radii)
    )


def _hidden(looking: Camera, *, bars: _Bars, at_m: Array) -> Array:
    """Return 1 for each place (3, K) that a capsule hides, else 0."""
    start, end = (
        looking.flat(bars.start_m) / cameras.SCALE,
        looking.flat(bars.end_m) / cameras.SCALE,
    )
    at = looking.flat(at_m) / cameras.SCALE
    along = end - start
    off = at[:, None, :] - start[:, :, None]
    squared = np.maximum((along**2).sum(axis=0), 1e-9)
    share = np.clip((along[:, :, None] * off).sum(axis=0) / squared[:, None], 0.0, 1.0)
    miss = np.linalg.norm(off - along[:, :, None] * share, axis=0)
    near, far = looking.depth_m(bars.start_m), looking.depth_m(bars.end_m)
    line = near[:, None] + (far - near)[:, None] * share
    # A place at the limb's own surface is not hidden by it: it must lie clearly behind.
    behind = line > looking.depth_m(at_m)[None, :] + 0.5 * bars.radius_m[:, None]
    return np.asarray(((miss < bars.radius_m[:, None]) & behind).any(axis=0), dtype=np.float64)
