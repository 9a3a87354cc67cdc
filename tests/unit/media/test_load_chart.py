import re
import xml.etree.ElementTree as ET

import numpy as np
import pytest

from halewright.core.mechanics import rubber
from halewright.core.people.kit import MeasuredPoint
from halewright.media import load_chart, palette

POINTS = tuple(
    MeasuredPoint(
        slack_length_m=0.5, stretched_length_m=0.5 * ratio, reading_n=10 * (ratio - ratio**-2)
    )
    for ratio in (1.2, 1.4, 1.6, 1.8, 2.0)
)


def test_a_measured_band_shows_its_readings_and_where_to_stop() -> None:
    """Five marks, one curve with a dark edge, and the limit in words."""
    law = rubber.estimate(POINTS, chance=np.random.default_rng(1), draws=20)

    drawn = load_chart.of_band(POINTS, law=law, limit_ratio=3.0)

    assert ET.fromstring(drawn).get("role") == "img"  # noqa: S314  our own drawing
    assert drawn.count("<circle") == 5
    assert "stop here" in drawn
    assert drawn.count(palette.BAND) == 1


def test_readings_without_a_law_are_shown_alone() -> None:
    """Too few for a curve: the marks stand without a line of the band."""
    drawn = load_chart.of_band(POINTS[:2], law=None, limit_ratio=3.0)

    assert drawn.count("<circle") == 2
    assert palette.BAND not in drawn


def test_the_peak_stands_where_the_tension_is_greatest() -> None:
    """Half way of 0 to 1 is half way of the chart between its margins: 48 + 0.5 · 358 = 227."""
    phases = np.linspace(0.0, 1.0, 5)
    tension_n = np.array([0.0, 5.0, 20.0, 10.0, 5.0])

    drawn = load_chart.of_repetition(
        phase_ratios=phases, tension_n=tension_n, interval_n=(15.0, 25.0)
    )

    mark = re.search(r'<circle cx="([\d.]+)"', drawn)
    assert mark is not None
    assert float(mark[1]) == pytest.approx(227.0)


def test_unknown_tension_draws_no_nonsense() -> None:
    """Beyond what was measured the line stops; nothing says nan."""
    phases = np.linspace(0.0, 1.0, 4)

    drawn = load_chart.of_repetition(
        phase_ratios=phases, tension_n=np.array([5.0, 9.0, np.nan, np.nan]), interval_n=None
    )

    assert "nan" not in drawn
    assert ET.fromstring(drawn) is not None  # noqa: S314  our own drawing
