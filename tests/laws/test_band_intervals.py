"""Intervals are honest: over many bands measured with real errors they hold what was held out."""

from collections.abc import Callable

import numpy as np
import pytest
from scipy.interpolate import PchipInterpolator

from halewright.core.mechanics import rubber
from halewright.core.people.kit import MeasuredPoint

# Stretch and MPa: Treloar LRG (1944) Trans Faraday Soc 40:59-70, as the facts page prints it.
TRELOAR = np.array(
    [
        [1.0, 0.0], [1.02, 0.0255], [1.125, 0.13435], [1.24, 0.22555], [1.39, 0.31675],
        [1.585, 0.40796], [1.9, 0.50014], [2.18, 0.5884], [2.42, 0.67666], [3.02, 0.86299],
        [3.57, 1.04931],
    ]
)  # fmt: skip
Shape = Callable[[np.ndarray], np.ndarray]
SHAPES: dict[str, Shape] = {
    "treloar": PchipInterpolator(TRELOAR[:, 0], TRELOAR[:, 1]),
    "neo-hooke": lambda ratio: ratio - ratio**-2.0,
    "ogden 1.3": lambda ratio: ratio**0.3 - ratio**-1.65,
    "ogden 1.8": lambda ratio: ratio**0.8 - ratio**-1.9,
    "stiffening": lambda ratio: ratio**0.3 - ratio**-1.65 + 0.004 * (ratio**4 - ratio**-3.5),
}


def _held_shares(shape: Shape, *, bands: int, seed: int) -> tuple[float, float]:
    """Return how often the intervals hold the true force, and a fresh reading, at new lengths."""
    chance = np.random.default_rng(seed)
    truths, fresh = [], []
    for _ in range(bands):
        scale = chance.uniform(6.0, 60.0) / float(shape(np.array([2.0]))[0])
        count, slack_m = int(chance.integers(5, 11)), chance.uniform(0.3, 1.0)
        most = chance.uniform(2.0, 3.0)
        told_slack_m = slack_m + chance.normal(0.0, rubber.TAPE_SD_M)

        def read(ratio: np.ndarray, *, strip: tuple[float, float]) -> tuple[np.ndarray, np.ndarray]:
            length_m = strip[1] * ratio + chance.normal(0.0, rubber.TAPE_SD_M, ratio.size)
            force_n = strip[0] * shape(ratio) + chance.normal(0.0, 0.5, ratio.size)
            # The scale shows steps of 10 g (0.098 N).
            return length_m, np.maximum(np.round(force_n / 0.0980665) * 0.0980665, 0.0)

        strip = (scale, slack_m)
        ratios = np.linspace(1.0 + (most - 1.0) / count, most, count)
        lengths_m, forces_n = read(ratios, strip=strip)
        found = rubber.estimate(
            [
                MeasuredPoint(slack_length_m=told_slack_m, stretched_length_m=a, reading_n=b)
                for a, b in zip(lengths_m, forces_n, strict=True)
            ],
            chance=chance,
            draws=60,
        )
        reach = min(most, found.curve.most_ratio)
        held_out = chance.uniform(ratios[0], reach, 6)
        low_n, high_n = rubber.interval_n(found, stretch_ratios=held_out)
        true_n = scale * shape(held_out)
        truths.append((low_n <= true_n) & (true_n <= high_n))
        new_m, new_n = read(held_out, strip=strip)
        seen = np.minimum(new_m / told_slack_m, found.curve.most_ratio)
        low_n, high_n = rubber.reading_interval_n(found, stretch_ratios=seen, slack_m=slack_m)
        fresh.append((low_n <= new_n) & (new_n <= high_n))
    return float(np.mean(truths)), float(np.mean(fresh))


@pytest.mark.parametrize("name", SHAPES)
def test_intervals_hold_what_was_held_out(name: str) -> None:
    """25 bands of each rubber shape: at least 93 % of true forces and fresh readings are held."""
    truth, reading = _held_shares(SHAPES[name], bands=25, seed=11)

    assert truth >= 0.93
    assert reading >= 0.93


@pytest.mark.prove
@pytest.mark.parametrize("name", SHAPES)
def test_intervals_hold_over_many_bands(name: str) -> None:
    """400 bands of each shape: at least 93 % of true forces and of fresh readings are held."""
    truth, reading = _held_shares(SHAPES[name], bands=400, seed=12)

    assert truth >= 0.93
    assert reading >= 0.93
