"""Where to grip: the length from mark to mark for a wanted tension, or for a band just taut.

Tension depends on stretch alone, so a run's slack length is its greatest length over λ(tension).
Where the band rubs over the body it is the greatest sum of the parts' lengths, each over the λ of
its own share of the tension. Both are closed forms: nothing is searched for.
"""

import numpy as np

from halewright.core.mechanics import rubber, tensions
from halewright.core.mechanics.geometry import BandGeometry, Geometry
from halewright.core.mechanics.rubber import Estimate

LIMIT_RATIO = 3.0
"""The greatest stretch, over slack length, where no local rule says otherwise: the lower of the
two published limits, "200 % longer" (needs research §4.3)."""
SNUG_RATIO = 1.05
"""A band stretched so much at the start is just taut: our rule."""
_HAIR = 1.0 - 1e-9


def most_n(*, geometry: Geometry, law: Estimate, limit_ratio: float = LIMIT_RATIO) -> float:
    """Return the greatest peak tension within the measured range and the stretch limit."""
    reach = min(law.curve.most_ratio, limit_ratio)
    one_n = float(rubber.tension_n(law.curve, stretch_ratios=np.array([reach]))[0])
    return one_n * geometry.bands[0].laid.strands


def for_tension_m(*, geometry: Geometry, law: Estimate, tension_n: float) -> float | None:
    """Return the grip length whose peak tension is so much; None where the band cannot give it."""
    if tension_n <= 0.0:
        return None
    told = []
    for band in geometry.bands:
        one_n = tension_n / band.laid.strands
        if one_n > law.curve.most_n * (1.0 + 1e-9):
            return None
        slack_m = max(
            tensions.slack_m(run=each.run, curve=law.curve, tension_n=one_n) for each in band.runs
        )
        told.append(band.laid.grip_length_m(slack_m))
    # The longest grip is that of the band which reaches the tension first.
    return max(told)


def snug_m(*, geometry: Geometry, law: Estimate, limit_ratio: float = LIMIT_RATIO) -> float:
    """Return the grip at which the band is just taut at the start, or as near as the limits let it.

    Where that would stretch it beyond the measured range or the limit, the grip is longer and the
    band hangs slack at the start.
    """
    band = _tightest_band(geometry)
    start_m = max(float(run.length_m[0]) for run in band.runs)
    wanted_m = band.laid.grip_length_m(start_m / SNUG_RATIO)
    at_most_n = most_n(geometry=geometry, law=law, limit_ratio=limit_ratio)
    # The whole reach less a hair, so that rounding never counts as beyond it.
    shortest_m = for_tension_m(geometry=geometry, law=law, tension_n=at_most_n * _HAIR)
    return wanted_m if shortest_m is None else max(wanted_m, shortest_m)


def can_be_taken(geometry: Geometry, *, grip_length_m: float) -> bool:
    """Return whether so short a grip leaves any band free of shoes and of what lies flat."""
    return min(band.laid.slack_m(grip_length_m) for band in geometry.bands) > 0.0


def _tightest_band(geometry: Geometry) -> BandGeometry:
    """Return the band whose longest run, gripped alike, is stretched most."""
    return max(geometry.bands, key=lambda band: band.longest_m)
