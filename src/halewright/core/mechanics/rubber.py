"""The pull of a measured band: tension from stretch, and stretch from tension.

F(λ) = a(λ - λ⁻²) + b(1 - λ⁻³) + c(λ² + 2/λ - 3)(λ - λ⁻²), with a, b, c ≥ 0: a two-term
Mooney-Rivlin law (Mooney 1940, Rivlin 1948) with one stiffening term. Every term grows for λ > 1,
so the curve can only rise. λ is the stretched length over the slack length. A band says nothing
beyond the stretch at which it was measured, and neither do we.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Protocol

import numpy as np
from scipy.optimize import brentq, nnls

from halewright.core.errors import HalewrightError
from halewright.core.mechanics.angles import Array
from halewright.core.people.kit import MeasuredPoint, Phase

LEAST_POINTS = 5
"""Fewer readings cannot tell three terms apart and show a misreading: common practice."""
READING_SD_N = 0.5
"""Uncertainty of one reading of a hanging scale: common practice."""
TAPE_SD_M = 0.003
"""Uncertainty of one length read from a tape: common practice."""
DISCREPANCY_RATIO = 0.02
"""How much of a force the law itself may be wrong by; the fit alone covers too little.

Calibrated by simulation (tests/laws/test_band_intervals.py): bands of five rubber shapes, 6 to
60 N at twice their length, 5 to 10 readings. With 0.02, 95 % intervals hold the truth 97 to 100
times in a hundred for every shape, the heavy bands included. No real band was among them.
"""
STEP_N = 5.0
"""Loads are shown to this step, about what can be told apart (CV near 10 %): our rule."""

_CAUCHY = 2.0
"""Residuals of this many standard deviations weigh half: common practice in robust fitting."""
_ROUNDS = 15
_DRAW_ROUNDS = 3
"""Imagined readings have no misreadings, so few rounds do."""
_NORMAL_95 = 1.96


class TooFewReadings(HalewrightError):
    """A band with too few readings, or too little spread, for a curve."""

    def __init__(self, *, count: int) -> None:
        """Say how many there are and how many are needed."""
        super().__init__(
            f"The band has {count} usable readings; measure at {LEAST_POINTS} or more lengths "
            "longer than slack."
        )


class BeyondMeasured(HalewrightError):
    """A stretch at which this band was never measured."""

    def __init__(self, *, stretch_ratio: float, most_ratio: float) -> None:
        """Name the stretch that was asked for and the greatest that was measured."""
        super().__init__(
            f"The band was measured up to {most_ratio:.2f} times its slack length; its pull at "
            f"{stretch_ratio:.2f} times is not known. Measure it further, or use a longer piece."
        )


class Chance(Protocol):
    """A source of random numbers, such as a numpy Generator."""

    def normal(self, loc: float, scale: float, size: int) -> Array:  # unit: that of the draw
        """Return normally distributed numbers."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve:
    """One band's law: its three terms in newtons, and the greatest stretch it was measured at."""

    linear_n: float
    softening_n: float
    stiffening_n: float
    most_ratio: float

    @property
    def most_n(self) -> float:
        """Return the tension at the greatest measured stretch."""
        return float(tension_n(self, stretch_ratios=np.array([self.most_ratio]))[0])


@dataclass(frozen=True, slots=True, kw_only=True)
class Estimate:
    """A curve with its uncertainty: refitted coefficients, one row of (a, b, c) to a draw.

    `unloading` is the curve while the band is let back, None where that was not measured.
    """

    curve: Curve
    draws_n: Array
    unloading: Curve | None = None


def terms(stretch_ratios: Array) -> Array:
    """Return the three terms of the law at each stretch, on a last axis; zero where slack."""
    stretch = np.maximum(stretch_ratios, 1.0)
    first = stretch - stretch**-2
    return np.stack([first, 1.0 - stretch**-3, (stretch**2 + 2.0 / stretch - 3.0) * first], axis=-1)


def tension_n(curve: Curve, *, stretch_ratios: Array) -> Array:
    """Return the tension at each stretch; a slack band pulls nothing.

    Raises BeyondMeasured where any stretch is greater than the band was measured at.
    """
    greatest = float(np.max(stretch_ratios, initial=1.0))
    if greatest > curve.most_ratio * (1.0 + 1e-9):
        raise BeyondMeasured(stretch_ratio=greatest, most_ratio=curve.most_ratio)
    found: Array = terms(stretch_ratios) @ _coefficients(curve)
    return found


def told_n(curve: Curve, *, stretch_ratios: Array) -> Array:
    """Return the tension at each stretch as `tension_n` does, but NaN beyond what was measured."""
    found: Array = terms(stretch_ratios) @ _coefficients(curve)
    return np.where(stretch_ratios > curve.most_ratio * (1.0 + 1e-9), np.nan, found)


def slope_n(curve: Curve, *, stretch_ratios: Array) -> Array:
    """Return how many newtons more each further unit of stretch takes; zero where slack."""
    slopes = _slopes(stretch_ratios) @ _coefficients(curve)
    return np.where(stretch_ratios > 1.0, slopes, 0.0)


def _slopes(stretch_ratios: Array) -> Array:
    """Return the derivatives of the three terms, on a last axis."""
    stretch = np.maximum(stretch_ratios, 1.0)
    first, first_slope = stretch - stretch**-2, 1.0 + 2.0 * stretch**-3
    excess, excess_slope = stretch**2 + 2.0 / stretch - 3.0, 2.0 * stretch - 2.0 * stretch**-2
    return np.stack(
        [first_slope, 3.0 * stretch**-4, excess_slope * first + excess * first_slope], axis=-1
    )


def stretches(curve: Curve, *, tensions_n: Array) -> Array:
    """Return the stretch at each tension, 1 at none; NaN beyond the greatest that was measured.

    From a fine table, then Newton's way twice: the law is smooth and only rises.
    """
    grid = np.linspace(1.0, curve.most_ratio, 1_001)
    found = np.interp(tensions_n, terms(grid) @ _coefficients(curve), grid)
    for _ in range(2):
        slope = np.maximum(slope_n(curve, stretch_ratios=found), 1e-9)
        missing_n = tensions_n - _curve_n(curve, stretch_ratios=found)
        found = np.where(found > 1.0, np.clip(found + missing_n / slope, 1.0, None), found)
    found = np.where(tensions_n <= 0.0, 1.0, np.minimum(found, curve.most_ratio))
    return np.where(tensions_n > curve.most_n * (1.0 + 1e-9), np.nan, found)


def _curve_n(curve: Curve, *, stretch_ratios: Array) -> Array:
    found: Array = terms(stretch_ratios) @ _coefficients(curve)
    return found


def stretch_ratio(curve: Curve, *, tension_n: float) -> float | None:
    """Return the stretch at which the band pulls so much; None beyond what was measured."""
    if tension_n <= 0.0:
        return 1.0
    if tension_n > curve.most_n * (1.0 + 1e-9):
        return None
    coefficients = _coefficients(curve)

    def excess_n(stretch_ratio: float) -> float:
        return float((terms(np.array([stretch_ratio])) @ coefficients)[0]) - tension_n

    if excess_n(curve.most_ratio) <= 0.0:
        return curve.most_ratio
    return float(brentq(excess_n, 1.0, curve.most_ratio))


def grip_length_m(curve: Curve, *, longest_m: float, tension_n: float) -> float | None:
    """Return the slack length between the hands' marks that pulls so much at its longest.

    Tension depends on stretch alone, so the length is `longest_m` / λ(tension). None where the
    band was never measured at that tension, or the tension is not positive.
    """
    stretch = stretch_ratio(curve, tension_n=tension_n)
    if stretch is None or tension_n <= 0.0:
        return None
    return longest_m / stretch


def fit(
    points: Sequence[MeasuredPoint],
    *,
    strands: int = 1,
    limit_ratio: float = math.inf,
    phase: Phase = Phase.LOADING,
) -> Curve:
    """Return the curve of one strand; a single misreading hardly moves it.

    `strands` is how many the scale held at once: 1 for a strip, 2 for a loop between two hooks.
    Readings beyond `limit_ratio` are left out. Non-negative least squares with Cauchy weights,
    repeated. Raises TooFewReadings for fewer than five lengths longer than slack.
    """
    read = _readings(points, strands=strands, limit_ratio=limit_ratio, phase=phase)
    coefficients = _robust(read)
    return _curve(coefficients, most_ratio=float(read.stretch_ratios.max()))


def estimate(
    points: Sequence[MeasuredPoint],
    *,
    chance: Chance,
    draws: int = 100,
    strands: int = 1,
    limit_ratio: float = math.inf,
) -> Estimate:
    """Return the curve with its uncertainty by parametric bootstrap: refits to imagined readings.

    Each draw reads the fitted curve with the scale's and the tape's own errors. `chance` is passed
    in, so the same one gives the same answer. Readings taken while letting the band back make
    their own curve where there are enough of them.
    """
    read = _readings(points, strands=strands, limit_ratio=limit_ratio, phase=Phase.LOADING)
    coefficients = _robust(read)
    count = read.stretch_ratios.size
    rows = []
    for _ in range(draws):
        slack_m = read.slack_m + chance.normal(0.0, TAPE_SD_M, 1)
        stretched_m = read.stretch_ratios * read.slack_m + chance.normal(0.0, TAPE_SD_M, count)
        true_n = terms(read.stretch_ratios) @ coefficients
        told = replace(
            read,
            stretch_ratios=np.maximum(stretched_m / slack_m, 1.0 + 1e-6),
            reading_n=true_n + chance.normal(0.0, read.reading_sd_n, count),
        )
        rows.append(_robust(told, rounds=_DRAW_ROUNDS))
    back = None
    if len({point.stretched_length_m for point in points if point.phase is Phase.UNLOADING}) >= (
        LEAST_POINTS
    ):
        back = fit(points, strands=strands, limit_ratio=limit_ratio, phase=Phase.UNLOADING)
    return Estimate(
        curve=_curve(coefficients, most_ratio=float(read.stretch_ratios.max())),
        draws_n=np.array(rows),
        unloading=back,
    )


def interval_n(found: Estimate, *, stretch_ratios: Array) -> tuple[Array, Array]:
    """Return the 95 % interval of the true tension at each stretch, never below zero.

    The spread of the refits and the law's own discrepancy add as squares. Raises BeyondMeasured
    as `tension_n` does.
    """
    middle_n = tension_n(found.curve, stretch_ratios=stretch_ratios)
    half_n = _NORMAL_95 * _spread_n(found, stretch_ratios=stretch_ratios)
    return np.maximum(middle_n - half_n, 0.0), middle_n + half_n


def reading_interval_n(
    found: Estimate, *, stretch_ratios: Array, slack_m: float, strands: int = 1
) -> tuple[Array, Array]:
    """Return the 95 % interval of what a scale would show at each stretch, with its own errors."""
    middle_n = tension_n(found.curve, stretch_ratios=stretch_ratios)
    slope = slope_n(found.curve, stretch_ratios=stretch_ratios)
    tape_n = slope * TAPE_SD_M / slack_m * np.sqrt(1.0 + stretch_ratios**2)
    own_n = np.hypot(tape_n, READING_SD_N / strands)
    half_n = _NORMAL_95 * np.hypot(_spread_n(found, stretch_ratios=stretch_ratios), own_n)
    return np.maximum(strands * (middle_n - half_n), 0.0), strands * (middle_n + half_n)


def _spread_n(found: Estimate, *, stretch_ratios: Array) -> Array:
    middle_n = _curve_n(found.curve, stretch_ratios=stretch_ratios)
    # About the curve itself, so that a law pressed against a ≥ 0 is not taken for a sure one.
    away_n = terms(stretch_ratios) @ found.draws_n.T - middle_n[..., None]
    drawn_n = np.sqrt((away_n**2).mean(axis=-1))
    return np.asarray(np.hypot(drawn_n, DISCREPANCY_RATIO * middle_n), dtype=np.float64)


def rms_n(curve: Curve, *, points: Sequence[MeasuredPoint], strands: int = 1) -> float:
    """Return the root mean square miss of the loading readings within the curve's range."""
    read = _readings(points, strands=strands, limit_ratio=curve.most_ratio, phase=Phase.LOADING)
    missed_n = read.reading_n - tension_n(curve, stretch_ratios=read.stretch_ratios)
    return float(np.sqrt(np.mean(missed_n**2)))


def loss_ratio(found: Estimate) -> float | None:
    """Return the share of the work of drawing out that is not given back (hysteresis), or None.

    Over the stretch that both curves were measured at; None without readings while letting back.
    """
    if found.unloading is None:
        return None
    most = min(found.curve.most_ratio, found.unloading.most_ratio)
    grid = np.linspace(1.0, most, 201)
    out_n, back_n = (
        _curve_n(curve, stretch_ratios=grid) for curve in (found.curve, found.unloading)
    )
    out = float(np.trapezoid(out_n, grid))
    return 1.0 - float(np.trapezoid(back_n, grid)) / out if out > 0.0 else None


def shown_n(tension_n: float) -> int:
    """Return a tension as it may be shown: to the nearest 5 N."""
    return int(STEP_N * np.floor(tension_n / STEP_N + 0.5))


def _coefficients(curve: Curve) -> Array:
    return np.array([curve.linear_n, curve.softening_n, curve.stiffening_n])


def _curve(coefficients: Array, *, most_ratio: float) -> Curve:
    linear, softening, stiffening = (float(value) for value in coefficients)
    return Curve(
        linear_n=linear, softening_n=softening, stiffening_n=stiffening, most_ratio=most_ratio
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Read:
    """The usable readings of one strand, with what each may be wrong by."""

    slack_m: Array
    stretch_ratios: Array
    reading_n: Array
    reading_sd_n: float


def _readings(
    points: Sequence[MeasuredPoint], *, strands: int, limit_ratio: float, phase: Phase
) -> _Read:
    used = [
        point
        for point in points
        if point.phase is phase
        and point.stretched_length_m > point.slack_length_m > 0.0
        and point.stretched_length_m <= limit_ratio * point.slack_length_m * (1.0 + 1e-9)
    ]
    if len({point.stretched_length_m / point.slack_length_m for point in used}) < LEAST_POINTS:
        raise TooFewReadings(count=len(used))
    slack_m = np.array([point.slack_length_m for point in used])
    return _Read(
        slack_m=slack_m,
        stretch_ratios=np.array([point.stretched_length_m for point in used]) / slack_m,
        reading_n=np.array([point.reading_n for point in used]) / strands,
        reading_sd_n=READING_SD_N / strands,
    )


def _robust(read: _Read, *, rounds: int = _ROUNDS) -> Array:
    """Fit with weights 1 / (1 + (r / 2σ)²), where r is the residual of the round before.

    σ is of the reading and, through the slope of the curve, of the two lengths from the tape.
    """
    columns = terms(read.stretch_ratios)
    tape_ratio = TAPE_SD_M / read.slack_m * np.sqrt(1.0 + read.stretch_ratios**2)
    weights = np.ones_like(read.reading_n)
    coefficients = np.zeros(3)
    for _ in range(rounds):
        root = np.sqrt(weights)
        weighted = columns * root[:, None]
        # Columns of one length keep the solver's steps even; the answer is scaled back.
        scale = np.linalg.norm(weighted, axis=0)
        solution, _ = nnls(weighted / scale, read.reading_n * root)
        before = coefficients
        coefficients = np.asarray(solution / scale, dtype=np.float64)
        if np.allclose(before, coefficients, rtol=1e-6, atol=1e-9):
            break
        slope = _slopes(read.stretch_ratios) @ coefficients
        sd_n = np.hypot(read.reading_sd_n, slope * tape_ratio)
        residual = (read.reading_n - columns @ coefficients) / sd_n
        weights = 1.0 / (1.0 + (residual / _CAUCHY) ** 2)
    return coefficients
