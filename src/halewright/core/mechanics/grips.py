"""Where to grip: the length from mark to mark for a wanted tension, or for a band just taut.

Tension depends on stretch alone, so a run's slack length is its greatest length over λ(tension):
closed form. Where the band rubs over the body the length is found by root search.
"""

import numpy as np
from scipy.optimize import brentq

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
    band = _tightest_band(geometry)
    strands = band.laid.strands
    stretch = rubber.stretch_ratio(law.curve, tension_n=tension_n / strands)
    if stretch is None or tension_n <= 0.0:
        return None
    slack_m = band.longest_m / stretch
    if any(each.run.friction for each in band.runs):

        def excess_n(length_m: float) -> float:
            found_n = _peak_n(band=band, law=law, slack_m=length_m)
            return (law.curve.most_n if found_n is None else found_n) - tension_n / strands

        # Friction only tightens, so the frictionless length is the shortest that can be right.
        if excess_n(slack_m) > 0.0:
            slack_m = float(brentq(excess_n, slack_m, band.longest_m, xtol=1e-9))
    return band.laid.grip_length_m(slack_m)


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


def _peak_n(*, band: BandGeometry, law: Estimate, slack_m: float) -> float | None:
    peaks = [
        float(tensions.of(run=each.run, curve=law.curve, slack_m=slack_m).most_n.max())
        for each in band.runs
    ]
    return None if any(np.isnan(peaks)) else max(peaks)


def _tightest_band(geometry: Geometry) -> BandGeometry:
    """Return the band whose longest run, gripped alike, is stretched most."""
    return max(geometry.bands, key=lambda band: band.longest_m)
