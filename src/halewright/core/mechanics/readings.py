"""Plain checks of a band's readings, each with what was found and how to mend it.

A flag never changes a number: the curve is robust to one misreading, and the leader decides.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from halewright.core.mechanics import rubber
from halewright.core.mechanics.rubber import Curve
from halewright.core.people.kit import MeasuredPoint, Phase

_FAR_SD = 5.0
_FAR_SHARE = 0.12
"""A reading off the curve by more than this share of it, and by five standard deviations of a
reading, is taken for a slip: our rule."""
_SHIFTS = np.linspace(-0.10, 0.10, 41)
_DOUBTFUL_RATIO = 0.02
_BETTER_SHARE = 0.5
_LEFT_SHARE = 0.5
"""The slack length is doubted where another one, 2 % off or more, halves what is left over and
what was left over is more than half the scale's own error: our rule. Only readings near slack can
show it: far out, a slack length 5 % off makes a curve as good as the true one."""
_UNLIKE_M = 0.01
"""Slack lengths of one band that differ by more were not all measured slack: our rule."""


class FlagKind(StrEnum):
    """What may be wrong with the readings."""

    TOO_FEW = "too_few_points"
    FAR_OFF = "typing_error"
    OUT_OF_ORDER = "reading_out_of_order"
    SLACK_DOUBTFUL = "slack_length_doubtful"
    BEYOND_LIMIT = "beyond_limit"


@dataclass(frozen=True, slots=True, kw_only=True)
class Flag:
    """One doubt; `reading` counts readings from 1 as they were given, None for all of them."""

    kind: FlagKind
    words: str
    reading: int | None = None


def check(
    points: Sequence[MeasuredPoint], *, limit_ratio: float, strands: int = 1
) -> tuple[Flag, ...]:
    """Return every doubt about a band's readings, none when all is well."""
    flags = [*_beyond(points, limit_ratio=limit_ratio), *_disorder(points)]
    try:
        curve = rubber.fit(points, strands=strands, limit_ratio=limit_ratio)
    except rubber.TooFewReadings as few:
        return (*flags, Flag(kind=FlagKind.TOO_FEW, words=str(few)))
    flags += _far_off(points, curve=curve, strands=strands, limit_ratio=limit_ratio)
    flags += _slack(points, strands=strands, limit_ratio=limit_ratio)
    return tuple(flags)


def _ratio(point: MeasuredPoint) -> float:
    return point.stretched_length_m / point.slack_length_m


def _beyond(points: Sequence[MeasuredPoint], *, limit_ratio: float) -> Iterator[Flag]:
    for k, point in enumerate(points, start=1):
        if _ratio(point) > limit_ratio * (1.0 + 1e-9):
            yield Flag(
                kind=FlagKind.BEYOND_LIMIT,
                words=f"Reading {k} is at {_ratio(point):.2f} times the slack length, beyond the "
                f"limit of {limit_ratio:.2f}. It is not used; do not stretch so far.",
                reading=k,
            )


def _disorder(points: Sequence[MeasuredPoint]) -> Iterator[Flag]:
    """Yield readings that fall by more than two scales' errors although the band is longer."""
    for phase in Phase:
        told = [(k, each) for k, each in enumerate(points, start=1) if each.phase is phase]
        told.sort(key=lambda pair: _ratio(pair[1]))
        most_n = -np.inf
        for k, point in told:
            if point.reading_n < most_n - 2.0 * rubber.READING_SD_N:
                yield Flag(
                    kind=FlagKind.OUT_OF_ORDER,
                    words=f"Reading {k} ({point.reading_n:.1f} N) is lower than one at a shorter "
                    "length. Measure these two again.",
                    reading=k,
                )
            most_n = max(most_n, point.reading_n)


def _far_off(
    points: Sequence[MeasuredPoint], *, curve: Curve, strands: int, limit_ratio: float
) -> Iterator[Flag]:
    for k, point in enumerate(points, start=1):
        ratio = np.array([_ratio(point)])
        if point.phase is not Phase.LOADING or ratio[0] > min(limit_ratio, curve.most_ratio):
            continue
        due_n = strands * float(rubber.told_n(curve, stretch_ratios=ratio)[0])
        slope = strands * float(rubber.slope_n(curve, stretch_ratios=ratio)[0])
        tape_n = slope * rubber.TAPE_SD_M / point.slack_length_m * float(ratio[0])
        off_n = abs(point.reading_n - due_n)
        if off_n > max(_FAR_SD * np.hypot(rubber.READING_SD_N, tape_n), _FAR_SHARE * due_n):
            yield Flag(
                kind=FlagKind.FAR_OFF,
                words=f"Reading {k} is {point.reading_n:.1f} N where the others say about "
                f"{due_n:.1f} N. Look for a typing error, or measure it again.",
                reading=k,
            )


def _slack(points: Sequence[MeasuredPoint], *, strands: int, limit_ratio: float) -> Iterator[Flag]:
    """Yield doubt where slack lengths differ, slack pulls, or another length fits far better."""
    slacks_m = [point.slack_length_m for point in points]
    if max(slacks_m) - min(slacks_m) > _UNLIKE_M:
        yield Flag(
            kind=FlagKind.SLACK_DOUBTFUL,
            words=f"The slack length is given as {min(slacks_m):.2f} m and as "
            f"{max(slacks_m):.2f} m. Lay the band flat, without any pull, and measure it again.",
        )
        return
    for k, point in enumerate(points, start=1):
        if _ratio(point) <= 1.0 and point.reading_n > 2.0 * rubber.READING_SD_N:
            yield Flag(
                kind=FlagKind.SLACK_DOUBTFUL,
                words=f"Reading {k} is {point.reading_n:.1f} N at the slack length, where a band "
                "pulls nothing. Lay the band flat, without any pull, and measure it again.",
                reading=k,
            )
            return
    told = [
        point
        for point in points
        if point.phase is Phase.LOADING and 1.0 < _ratio(point) <= limit_ratio * (1.0 + 1e-9)
    ]
    left_n = {shift: _left_n(told, shift_share=float(shift), strands=strands) for shift in _SHIFTS}
    as_told_n = _left_n(told, shift_share=0.0, strands=strands)
    best = min(left_n, key=lambda shift: left_n[shift])
    doubtful = (
        abs(best) >= _DOUBTFUL_RATIO
        and as_told_n > _LEFT_SHARE * rubber.READING_SD_N
        and left_n[best] < _BETTER_SHARE * as_told_n
    )
    if doubtful:
        way = "longer" if best > 0.0 else "shorter"
        yield Flag(
            kind=FlagKind.SLACK_DOUBTFUL,
            words=f"The readings fit a slack length about {abs(100.0 * best):.0f} % {way} than "
            "the one given. Lay the band flat, without any pull, and measure it again.",
        )


def _left_n(points: Sequence[MeasuredPoint], *, shift_share: float, strands: int) -> float:
    """Return the median miss of the curve if the slack length were so much longer."""
    moved = [
        MeasuredPoint(
            slack_length_m=point.slack_length_m * (1.0 + shift_share),
            stretched_length_m=point.stretched_length_m,
            reading_n=point.reading_n,
        )
        for point in points
    ]
    try:
        curve = rubber.fit(moved, strands=strands)
    except rubber.TooFewReadings:
        return float("inf")
    ratios = np.array([_ratio(point) for point in moved])
    due_n = strands * rubber.tension_n(curve, stretch_ratios=np.minimum(ratios, curve.most_ratio))
    off_n = np.abs(np.array([point.reading_n for point in moved]) - due_n)
    return float(np.sqrt(np.mean(np.sort(off_n)[: max(4, off_n.size - 1)] ** 2)))
