"""Charts of a band's pull: over its stretch as it was measured, and through one repetition.

Every line of the band is coral with a dark edge; words beside each chart say the same.
"""

import html
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from halewright.core.mechanics import rubber
from halewright.core.mechanics.angles import Array
from halewright.core.mechanics.rubber import Estimate
from halewright.core.people.kit import MeasuredPoint
from halewright.media import palette

_WIDTH, _HEIGHT = 420.0, 290.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 48.0, 14.0, 30.0, 46.0
_QUIET = "#4A5958"
_WASH = "#F7D9CE"
_STEPS_N = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0)
_MOST_TICKS = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class _Frame:
    """Where values lie on the chart."""

    from_x: float  # unit: the axis's own
    to_x: float  # unit: the axis's own
    to_n: float

    def x(self, value: float) -> float:
        share = (value - self.from_x) / (self.to_x - self.from_x)
        return _LEFT + share * (_WIDTH - _LEFT - _RIGHT)

    def y(self, tension_n: float) -> float:
        return _HEIGHT - _BOTTOM - tension_n / self.to_n * (_HEIGHT - _TOP - _BOTTOM)

    def line(self, values: Array, tensions_n: Array) -> str:
        """Return a path through the values that are known."""
        known = ~np.isnan(tensions_n)
        return "M" + "L".join(
            f"{self.x(float(a)):.1f} {self.y(float(b)):.1f}"
            for a, b in zip(values[known], tensions_n[known], strict=True)
        )


def of_band(
    points: Sequence[MeasuredPoint],
    *,
    law: Estimate | None,
    limit_ratio: float,
    strands: int = 1,
) -> str:
    """Return the chart of a measured band: its readings, and its law with the 95 % interval.

    `strands` is how many the scale held; the chart shows what the scale showed. `law` None leaves
    the readings alone.
    """
    ratios = [point.stretched_length_m / point.slack_length_m for point in points]
    most_n = max((point.reading_n for point in points), default=10.0)
    grid = np.linspace(1.0, law.curve.most_ratio, 61) if law else np.ones(1)
    ends_n = None
    if law is not None:
        low_n, high_n = rubber.interval_n(law, stretch_ratios=grid)
        ends_n = (strands * low_n, strands * high_n)
        most_n = max(most_n, float(ends_n[1].max()))
    frame = _Frame(
        from_x=1.0, to_x=max([limit_ratio, *ratios]) + 0.05, to_n=_round_up(most_n * 1.05)
    )
    parts = [_axes(frame, title="Scale reading (N)", below="times its slack length")]
    parts += [_tick(frame, at=ratio, words=f"{ratio:g}") for ratio in (1.0, 1.5, 2.0, 2.5, 3.0)
              if ratio <= frame.to_x]  # fmt: skip
    parts.append(_limit(frame, limit_ratio=limit_ratio))
    if law is not None and ends_n is not None:
        parts.append(_area(frame, values=grid, low_n=ends_n[0], high_n=ends_n[1]))
        told_n = strands * rubber.tension_n(law.curve, stretch_ratios=grid)
        parts.append(_band_line(frame.line(grid, told_n)))
    parts += [
        f'<circle cx="{frame.x(ratio):.1f}" cy="{frame.y(point.reading_n):.1f}" r="4.5" '
        f'fill="{palette.GROUND}" stroke="{palette.BAND_EDGE}" stroke-width="2"/>'
        for ratio, point in zip(ratios, points, strict=True)
    ]
    count = len(points)
    return _svg(parts, says=f"Scale reading over stretch: {count} readings and the curve through "
                            "them.")  # fmt: skip


def of_repetition(
    *, phase_ratios: Array, tension_n: Array, interval_n: tuple[float, float] | None
) -> str:
    """Return the chart of the tension from the start of a repetition to its far end.

    The shade has the peak's own interval as a share of the tension all along.
    """
    known = tension_n[~np.isnan(tension_n)]
    peak_n = float(known.max()) if known.size else 0.0
    high_n = max(peak_n, interval_n[1] if interval_n else 0.0)
    frame = _Frame(from_x=0.0, to_x=1.0, to_n=_round_up(max(high_n, 5.0) * 1.15))
    parts = [_axes(frame, title="Tension (N)", below="through the movement")]
    parts += [_tick(frame, at=0.0, words="start"), _tick(frame, at=1.0, words="far end")]
    if interval_n is not None and peak_n > 0.0:
        shares = (interval_n[0] / peak_n, interval_n[1] / peak_n)
        parts.append(
            _area(
                frame, values=phase_ratios, low_n=shares[0] * tension_n,
                high_n=shares[1] * tension_n,
            )
        )  # fmt: skip
    parts.append(_band_line(frame.line(phase_ratios, tension_n)))
    if known.size:
        at = float(phase_ratios[int(np.nanargmax(tension_n))])
        parts.append(
            f'<circle cx="{frame.x(at):.1f}" cy="{frame.y(peak_n):.1f}" r="6" '
            f'fill="{palette.BAND}" stroke="{palette.BAND_EDGE}" stroke-width="2"/>'
        )
    return _svg(parts, says="Tension of the band from the start to the far end of the movement.")


def _round_up(tension_n: float) -> float:
    step_n = _step_n(tension_n)
    return step_n * math.ceil(tension_n / step_n)


def _step_n(tension_n: float) -> float:
    return next((step for step in _STEPS_N if tension_n / step <= _MOST_TICKS), _STEPS_N[-1])


def _axes(frame: _Frame, *, title: str, below: str) -> str:
    lines = []
    step_n = _step_n(frame.to_n)
    for k in range(int(frame.to_n / step_n + 0.5) + 1):
        y = frame.y(k * step_n)
        lines.append(
            f'<path d="M{_LEFT} {y:.1f}H{_WIDTH - _RIGHT}" stroke="{palette.FLOOR}"/>'
            f'<text x="{_LEFT - 8}" y="{y + 5:.1f}" text-anchor="end">{k * step_n:g}</text>'
        )
    lines.append(f'<text x="4" y="16">{html.escape(title)}</text>')
    middle = (_LEFT + _WIDTH - _RIGHT) / 2
    lines.append(
        f'<text x="{middle}" y="{_HEIGHT - 6}" text-anchor="middle">{html.escape(below)}</text>'
    )
    return "".join(lines)


def _tick(frame: _Frame, *, at: float, words: str) -> str:
    x, y = frame.x(at), _HEIGHT - _BOTTOM
    anchor = "middle"
    if words.isalpha() or " " in words:
        anchor = "start" if at <= frame.from_x else "end"
    return (
        f'<path d="M{x:.1f} {y}v5" stroke="{palette.INK}"/>'
        f'<text x="{x:.1f}" y="{y + 20}" text-anchor="{anchor}">{html.escape(words)}</text>'
    )


def _limit(frame: _Frame, *, limit_ratio: float) -> str:
    x = frame.x(limit_ratio)
    return (
        f'<path d="M{x:.1f} {_TOP - 8}V{_HEIGHT - _BOTTOM}" stroke="{palette.INK}" '
        'stroke-width="2" stroke-dasharray="6 5"/>'
        f'<text x="{x - 6:.1f}" y="{_TOP - 10}" text-anchor="end">stop here</text>'
    )


def _area(frame: _Frame, *, values: Array, low_n: Array, high_n: Array) -> str:
    there = frame.line(values, high_n)
    back = frame.line(values[::-1], low_n[::-1]).removeprefix("M")
    return f'<path d="{there}L{back}Z" fill="{_WASH}"/>'


def _band_line(path: str) -> str:
    plain = f'<path d="{path}" fill="none" stroke-linejoin="round" stroke-linecap="round" '
    return (
        f'{plain}stroke="{palette.BAND_EDGE}" stroke-width="6"/>'
        f'{plain}stroke="{palette.BAND}" stroke-width="3.4"/>'
    )


def _svg(parts: Sequence[str], *, says: str) -> str:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDTH:g} {_HEIGHT:g}" '
        f'class="chart" role="img" aria-label="{html.escape(says)}" font-size="15" '
        f'fill="{_QUIET}">{"".join(parts)}</svg>'
    )
