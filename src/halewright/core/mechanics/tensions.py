"""The tension in every part of a run, from its slack length and the band's law.

Without friction one stretch holds throughout. With friction the band slips over each place in the
direction that the movement draws it (loading), and the tensions on its two sides differ by the
capstan factor; the slack lengths of the parts still add up to the whole. That is the upper bound;
the lower one is no friction. Which way the band creeps is told from the shares that an even
stretch would give; slipping one way everywhere is the worst that can be.
"""

from dataclasses import dataclass

import numpy as np

from halewright.core.mechanics import rubber
from halewright.core.mechanics.angles import Array
from halewright.core.mechanics.rubber import Curve
from halewright.core.mechanics.spans import Run

_HALVINGS = 24
_TABLE = 1_001
_POLISHES = 2
_LEAST_SLOPE_N = 1e-9
_SAME_M = 1e-12
_STILL_RATIO = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class RunTension:
    """The tension of one strand of a run, N frames; NaN where it was never measured.

    `regions_n` (regions, N); `most_n` and `stretch_ratios` are of the tightest region in each
    frame. `even_n` is what it would be without friction. A slack band has a stretch below 1.
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
            regions_n=regions_n,
            most_n=even_n,
            even_n=even_n,
            stretch_ratios=even_ratio,
        )
    factors = _factors(_ways(run), run=run)
    most_n = _tightest_n(run=run, factors=factors, curve=curve, slack_m=slack_m)
    stretch = np.where(even_ratio <= 1.0, even_ratio, rubber.stretches(curve, tensions_n=most_n))
    # Beyond the measured range the stretch is at least that of an even band.
    stretch = np.where(np.isnan(stretch), np.maximum(even_ratio, curve.most_ratio), stretch)
    return RunTension(
        regions_n=factors * most_n,
        most_n=most_n,
        even_n=even_n,
        stretch_ratios=stretch,
    )


def _ways(run: Run) -> list[Array]:
    """Return for each place of friction which way the band is drawn: 1 leftward, -1, or 0."""
    lengths_m = np.stack([region.length_m for region in run.regions])
    shares = np.cumsum(lengths_m, axis=0) / lengths_m.sum(axis=0)
    ways = []
    for k in range(len(run.friction)):
        # Where the left part would take in more band, band is drawn leftward.
        drawn = np.gradient(shares[k]) if shares.shape[1] > 1 else np.zeros(1)
        ways.append(np.where(np.abs(drawn) < _STILL_RATIO, 0.0, np.sign(drawn)))
    return ways


def _factors(ways: list[Array], *, run: Run) -> Array:
    """Return each region's tension as a share of the tightest one's, (regions, N).

    Friction holds the band back, so the side towards which it is drawn is the tighter one.
    """
    logs = [np.zeros_like(run.regions[0].length_m)]
    for way, friction in zip(ways, run.friction, strict=True):
        logs.append(logs[-1] - way * friction)
    stacked = np.stack(logs)
    return np.asarray(np.exp(stacked - stacked.max(axis=0)), dtype=np.float64)


def slack_m(*, run: Run, curve: Curve, tension_n: float) -> float:
    """Return the slack length with which the greatest tension over all frames is so much.

    In each frame that tension asks for Σ length / λ(share · tension); the frame that asks for
    most reaches it, and no frame passes it. NaN beyond the greatest tension that was measured.
    """
    lengths_m = np.stack([region.length_m for region in run.regions])
    factors = _factors(_ways(run), run=run) if run.friction else np.ones_like(lengths_m)
    stretch = rubber.stretches(curve, tensions_n=factors * tension_n)
    return float((lengths_m / stretch).sum(axis=0).max())


def rough_n(*, run: Run, curve: Curve, slack_m: float) -> Array:
    """Return the tightest tension if the band slips one way everywhere, the worse of both ways.

    So it may where the two sides do not move quite alike: the upper bound of friction. Where that
    was never measured, the greatest tension that was.
    """
    if not run.friction:
        return rubber.told_n(curve, stretch_ratios=run.length_m / slack_m)
    one_way = [np.ones_like(each) for each in run.friction]
    both = [
        _tightest_n(
            run=run,
            factors=_factors([sign * way for way in one_way], run=run),
            curve=curve,
            slack_m=slack_m,
        )
        for sign in (1.0, -1.0)
    ]
    return np.maximum(*(np.where(np.isnan(each), curve.most_n, each) for each in both))


def _tightest_n(*, run: Run, factors: Array, curve: Curve, slack_m: float) -> Array:
    """Solve Σ length / λ(factor · T) = slack length for T in each frame.

    Halving on a table of the law comes near, Newton's way on the law itself finishes.
    """
    lengths_m = np.stack([region.length_m for region in run.regions])
    grid = np.linspace(1.0, curve.most_ratio, _TABLE)
    grid_n = rubber.told_n(curve, stretch_ratios=grid)
    low_n, high_n = np.zeros(lengths_m.shape[1]), np.full(lengths_m.shape[1], curve.most_n)
    for _ in range(_HALVINGS):
        middle_n = 0.5 * (low_n + high_n)
        used_m = (lengths_m / np.interp(factors * middle_n, grid_n, grid)).sum(axis=0)
        too_slack = used_m > slack_m
        low_n, high_n = np.where(too_slack, middle_n, low_n), np.where(too_slack, high_n, middle_n)
    found_n = 0.5 * (low_n + high_n)
    for _ in range(_POLISHES):
        stretch = rubber.stretches(curve, tensions_n=factors * found_n)
        slope_n = np.maximum(rubber.slope_n(curve, stretch_ratios=stretch), _LEAST_SLOPE_N)
        gain = (lengths_m * factors / (stretch**2 * slope_n)).sum(axis=0)
        excess_m = (lengths_m / stretch).sum(axis=0) - slack_m
        found_n = np.clip(found_n + excess_m / gain, 0.0, curve.most_n)
    tightest = rubber.stretches(curve, tensions_n=factors * curve.most_n)
    beyond = (lengths_m / tightest).sum(axis=0) - slack_m > _SAME_M
    slack = lengths_m.sum(axis=0) <= slack_m
    return np.where(beyond, np.nan, np.where(slack, 0.0, found_n))
