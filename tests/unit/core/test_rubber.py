import re

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halewright.core.mechanics import rubber
from halewright.core.people.kit import MeasuredPoint

# Stretch and MPa: Treloar LRG (1944) Trans Faraday Soc 40:59-70, as the facts page prints it.
TRELOAR = """
1.02 0.0255
1.125 0.13435
1.24 0.22555
1.39 0.31675
1.585 0.40796
1.9 0.50014
2.18 0.5884
2.42 0.67666
3.02 0.86299
"""
_PAIRS = [tuple(map(float, line.split())) for line in TRELOAR.strip().splitlines()]
STRETCH = np.array([pair[0] for pair in _PAIRS])
MPA = np.array([pair[1] for pair in _PAIRS])
AREA_MM2 = 40.0  # A strip of 40 mm² turns MPa (N/mm²) into newtons: 0.86 MPa is 34.5 N.
SLACK_M = 0.60


def _points(stretch: np.ndarray, reading_n: np.ndarray) -> list[MeasuredPoint]:
    return [
        MeasuredPoint(
            slack_length_m=SLACK_M,
            stretched_length_m=SLACK_M * float(ratio),
            reading_n=float(reading),
        )
        for ratio, reading in zip(stretch, reading_n, strict=True)
    ]


TRUE = rubber.fit(_points(STRETCH, MPA * AREA_MM2))


def test_the_law_follows_published_rubber() -> None:
    """Root mean square error on Treloar's points up to 3.02 is below 1 % of the greatest force."""
    found_n = rubber.tension_n(TRUE, stretch_ratios=STRETCH)

    rms_n = float(np.sqrt(np.mean((found_n - MPA * AREA_MM2) ** 2)))
    assert rms_n < 0.01 * MPA.max() * AREA_MM2
    assert min(TRUE.linear_n, TRUE.softening_n, TRUE.stiffening_n) >= 0.0


def test_our_table_is_the_one_a_general_library_prints() -> None:
    """felupe prints part of Treloar's table in kgf/cm²: each shared stretch has our stress."""
    felupe = pytest.importorskip("felupe")
    printed = re.findall(r"\[(\d\.\d+), (\d+\.\d+)\],", felupe.Material.optimize.__doc__)
    theirs = {float(stretch): 0.0980665 * float(stress) for stretch, stress in printed}

    shared = [k for k, stretch in enumerate(STRETCH) if float(stretch) in theirs]
    assert len(shared) == 4
    assert [theirs[float(STRETCH[k])] for k in shared] == pytest.approx(MPA[shared], abs=1e-4)


def test_the_law_by_hand() -> None:
    """At λ = 2 the terms are 2 - ¼ = 1.75, 1 - ⅛ = 0.875 and (4 + 1 - 3) · 1.75 = 3.5."""
    curve = rubber.Curve(linear_n=4.0, softening_n=8.0, stiffening_n=2.0, most_ratio=3.0)

    found_n = rubber.tension_n(curve, stretch_ratios=np.array([0.8, 1.0, 2.0]))

    assert found_n == pytest.approx([0.0, 0.0, 4 * 1.75 + 8 * 0.875 + 2 * 3.5])


@given(
    coefficients=st.tuples(*[st.floats(0.0, 30.0) for _ in range(3)]).filter(
        lambda values: sum(values) > 0.5
    ),
    share=st.floats(0.02, 1.0),
)
def test_more_stretch_pulls_more_and_the_inverse_finds_it_back(
    coefficients: tuple[float, float, float], share: float
) -> None:
    """Any law with terms that are not negative rises, and stretch from tension returns."""
    curve = rubber.Curve(
        linear_n=coefficients[0],
        softening_n=coefficients[1],
        stiffening_n=coefficients[2],
        most_ratio=3.0,
    )
    grid = np.linspace(1.0, 3.0, 60)
    assert np.all(np.diff(rubber.tension_n(curve, stretch_ratios=grid)) > 0.0)

    stretch = 1.0 + 2.0 * share
    pull_n = float(rubber.tension_n(curve, stretch_ratios=np.array([stretch]))[0])
    assert rubber.stretch_ratio(curve, tension_n=pull_n) == pytest.approx(stretch, abs=1e-6)


def test_nothing_is_said_beyond_what_was_measured() -> None:
    """A stretch past the last reading is refused; a tension past it has no stretch."""
    with pytest.raises(rubber.BeyondMeasured, match=r"3\.02"):
        rubber.tension_n(TRUE, stretch_ratios=np.array([3.2]))

    assert rubber.stretch_ratio(TRUE, tension_n=TRUE.most_n + 1.0) is None
    assert rubber.grip_length_m(TRUE, longest_m=1.0, tension_n=TRUE.most_n + 1.0) is None


def test_the_grip_length_is_the_longest_way_over_the_stretch() -> None:
    """A band that pulls 20 N at λ reaches 20 N at 0.9 m when gripped at 0.9 m / λ."""
    stretch = rubber.stretch_ratio(TRUE, tension_n=20.0)
    assert stretch is not None

    found_m = rubber.grip_length_m(TRUE, longest_m=0.9, tension_n=20.0)

    assert found_m == pytest.approx(0.9 / stretch)
    assert rubber.tension_n(TRUE, stretch_ratios=np.array([0.9 / (found_m or 1.0)])) == (
        pytest.approx([20.0])
    )


def test_one_misreading_hardly_moves_the_curve() -> None:
    """One reading in eight that is 5 N off moves the curve by less than 1 N, wherever it is.

    Save the last: nothing lies beyond the longest reading to contradict it.
    """
    stretch = 1.0 + np.linspace(0.25, 2.0, 8)
    reading_n = rubber.tension_n(TRUE, stretch_ratios=stretch)
    grid = np.linspace(1.25, 3.0, 30)
    truth_n = rubber.tension_n(TRUE, stretch_ratios=grid)
    for wrong in range(7):
        misread_n = reading_n.copy()
        misread_n[wrong] += 5.0

        curve = rubber.fit(_points(stretch, misread_n))

        error_n = rubber.tension_n(curve, stretch_ratios=grid) - truth_n
        assert float(np.sqrt(np.mean(error_n**2))) < 1.0


def test_the_interval_holds_the_truth_nearly_always() -> None:
    """Of 40 bands measured with honest errors, at least 90 % of intervals hold the true force."""
    chance = np.random.default_rng(7)
    stretch = 1.0 + np.linspace(0.25, 2.0, 7)
    grid = np.array([1.4, 1.8, 2.2, 2.6])
    truth_n = rubber.tension_n(TRUE, stretch_ratios=grid)
    held = []
    for _ in range(40):
        told = stretch + chance.normal(0.0, rubber.TAPE_SD_M / SLACK_M, 7)
        read_n = rubber.tension_n(TRUE, stretch_ratios=stretch) + chance.normal(0.0, 0.5, 7)

        found = rubber.estimate(_points(told, read_n), chance=chance, draws=40)

        low_n, high_n = rubber.interval_n(found, stretch_ratios=grid)
        held.append((low_n <= truth_n) & (truth_n <= high_n))
    assert float(np.mean(held)) >= 0.90


def test_the_interval_is_never_narrower_than_the_laws_own_error() -> None:
    """Even perfect readings leave 1.96 · 2 % of the force to either side."""
    found = rubber.estimate(
        _points(STRETCH, MPA * AREA_MM2), chance=np.random.default_rng(1), draws=20
    )
    at = np.array([2.0])
    low_n, high_n = rubber.interval_n(found, stretch_ratios=at)

    middle_n = rubber.tension_n(found.curve, stretch_ratios=at)
    assert high_n[0] - middle_n[0] >= 1.96 * 0.02 * middle_n[0] - 1e-9
    assert low_n[0] < middle_n[0]


def test_too_few_readings_are_refused_in_words() -> None:
    """Three readings, or repeats at the same length, make no curve."""
    with pytest.raises(rubber.TooFewReadings, match="3 usable readings"):
        rubber.fit(_points(STRETCH[:3], MPA[:3]))
    with pytest.raises(rubber.TooFewReadings):
        rubber.fit(_points(np.full(6, 1.5), np.full(6, 10.0)))


@pytest.mark.parametrize(("told_n", "shown"), [(0.0, 0), (12.4, 10), (12.5, 15), (38.0, 40)])
def test_loads_are_shown_in_steps_that_can_be_told_apart(told_n: float, shown: int) -> None:
    """Newtons are rounded to the nearest five."""
    assert rubber.shown_n(told_n) == shown
