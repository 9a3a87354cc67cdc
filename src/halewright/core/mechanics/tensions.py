"""The tension in every part of a run, from its slack length and the band's law.

Without friction one stretch holds throughout. With friction the band slips over each place in the
direction that the movement draws it (loading), and the tensions on its two sides differ by the
capstan factor; the slack lengths of the parts still add up to the whole. That is the upper bound;
the lower one is no friction. Which way the band creeps is told from the shares that an even
stretch would give.
"""

from dataclasses import dataclass

import numpy as np

from halewright.core.mechanics import rubber
from halewright.core.mechanics.angles import Array
from halewright.core.mechanics.rubber import Curve
from halewright.core.mechanics.spans import Run

_HALVINGS = 48
_STILL_RATIO = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class RunTension:
    """The tension of one strand of a run, N frames; NaN where it was never measured.

    `regions_n` (regions, N); `most_n` and `stretch_ratios` are of the tightest region in each
    frame, `even_n` what it would be without friction. A slack band has a stretch below 1.
    """

    regions_n: Array
    most_n: Array
    even_n: Array
    stretch_ratios: Array


def of(*, run: Run, curve: Curve, slack_m: float) -> RunTension:
    """Return the tensions of a run with so much slack length in it.

    Raises ValueError for a slack length that is not positive.
    """
    if slack_m <= 0.0:
        raise ValueError(f"a run needs a slack length above zero, not {slack_m}")
    even_ratio = run.length_m / slack_m
    even_n = rubber.told_n(curve, stretch_ratios=even_ratio)
    if not run.friction:
        regions_n = np.repeat(even_n[None, :], len(run.regions), axis=0)
        return RunTension(
            regions_n=regions_n, most_n=even_n, even_n=even_n, stretch_ratios=even_ratio
        )
    factors = _factors(run)
    most_n = _tightest_n(run=run, factors=factors, curve=curve, slack_m=slack_m)
    stretch = np.where(even_ratio <= 1.0, even_ratio, rubber.stretches(curve, tensions_n=most_n))
    # Beyond the measured range the stretch is at least that of an even band.
    stretch = np.where(np.isnan(stretch), np.maximum(even_ratio, curve.most_ratio), stretch)
    return RunTension(
        regions_n=factors * most_n, most_n=most_n, even_n=even_n, stretch_ratios=stretch
    )


def _factors(run: Run) -> Array:
    """Return each region's tension as a share of the tightest one's, (regions, N)."""
    lengths_m = np.stack([region.length_m for region in run.regions])
    shares = np.cumsum(lengths_m, axis=0) / lengths_m.sum(axis=0)
    logs = [np.zeros(lengths_m.shape[1])]
    for k, friction in enumerate(run.friction):
        # Where the left part would take in more band, band is drawn leftward and friction holds
        # it back: the left is the tighter side.
        drawn = np.gradient(shares[k]) if shares.shape[1] > 1 else np.zeros(1)
        way = np.where(np.abs(drawn) < _STILL_RATIO, 0.0, np.sign(drawn))
        logs.append(logs[-1] - way * friction)
    stacked = np.stack(logs)
    return np.asarray(np.exp(stacked - stacked.max(axis=0)), dtype=np.float64)


def _tightest_n(*, run: Run, factors: Array, curve: Curve, slack_m: float) -> Array:
    """Solve Σ length / λ(factor · T) = slack length for T in each frame, by halving."""
    lengths_m = np.stack([region.length_m for region in run.regions])

    def excess_m(tension_n: Array) -> Array:
        stretch = rubber.stretches(curve, tensions_n=factors * tension_n)
        return np.asarray((lengths_m / stretch).sum(axis=0) - slack_m, dtype=np.float64)

    low_n, high_n = np.zeros(lengths_m.shape[1]), np.full(lengths_m.shape[1], curve.most_n)
    beyond = excess_m(high_n) > 1e-12
    slack = lengths_m.sum(axis=0) <= slack_m
    for _ in range(_HALVINGS):
        middle_n = 0.5 * (low_n + high_n)
        too_slack = excess_m(middle_n) > 0.0
        low_n, high_n = np.where(too_slack, middle_n, low_n), np.where(too_slack, high_n, middle_n)
    found_n = np.where(slack, 0.0, 0.5 * (low_n + high_n))
    return np.where(beyond, np.nan, found_n)
