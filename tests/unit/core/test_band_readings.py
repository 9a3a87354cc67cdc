import numpy as np
import pytest

from halewright.core.mechanics import readings, rubber
from halewright.core.mechanics.readings import FlagKind
from halewright.core.people.kit import MeasuredPoint, Phase

TRUE = rubber.Curve(linear_n=5.0, softening_n=8.0, stiffening_n=0.3, most_ratio=3.0)
STRETCH = np.linspace(1.25, 3.0, 8)


def _points(
    *, slack_m: float = 0.6, told_slack_m: float = 0.6, strands: int = 1
) -> list[MeasuredPoint]:
    pull_n = strands * rubber.tension_n(TRUE, stretch_ratios=STRETCH)
    return [
        MeasuredPoint(
            slack_length_m=told_slack_m, stretched_length_m=slack_m * ratio, reading_n=float(pull)
        )
        for ratio, pull in zip(STRETCH, pull_n, strict=True)
    ]


def _changed(points: list[MeasuredPoint], at: int, reading_n: float) -> list[MeasuredPoint]:
    told = MeasuredPoint(
        slack_length_m=points[at].slack_length_m,
        stretched_length_m=points[at].stretched_length_m,
        reading_n=reading_n,
    )
    return [*points[:at], told, *points[at + 1 :]]


def _kinds(points: list[MeasuredPoint], limit_ratio: float = 3.0) -> list[FlagKind]:
    return [flag.kind for flag in readings.check(points, limit_ratio=limit_ratio)]


def test_good_readings_raise_no_flag() -> None:
    """Eight readings that lie on a rubber's curve are taken as they are."""
    assert _kinds(_points()) == []


@pytest.mark.parametrize("at", range(1, 7))
def test_a_typing_error_is_named(at: int) -> None:
    """A reading ten times too high, or with its figures turned, is named by its place."""
    flags = readings.check(_changed(_points(), at, 10.0 * _points()[at].reading_n), limit_ratio=3.0)

    found = [flag.reading for flag in flags if flag.kind is FlagKind.FAR_OFF]
    assert found == [at + 1]


def test_a_reading_lower_at_a_longer_length_is_out_of_order() -> None:
    """A scale that shows less as the band grows longer has been misread."""
    assert FlagKind.OUT_OF_ORDER in _kinds(_changed(_points(), 5, 6.0))


@pytest.mark.parametrize("told_m", [0.54, 0.66])
def test_a_wrong_slack_length_is_doubted(told_m: float) -> None:
    """With readings near slack, a slack length 10 % off shows in what the curve leaves over."""
    stretch = np.array([1.12, 1.16, 1.2, 1.3, 1.5, 1.8, 2.2])
    pull_n = rubber.tension_n(TRUE, stretch_ratios=stretch)
    points = [
        MeasuredPoint(slack_length_m=told_m, stretched_length_m=0.6 * ratio, reading_n=float(pull))
        for ratio, pull in zip(stretch, pull_n, strict=True)
    ]

    assert FlagKind.SLACK_DOUBTFUL in _kinds(points)


def test_a_band_that_pulls_at_its_slack_length_was_not_slack() -> None:
    """A reading of 3 N at the slack length, or two slack lengths, cast doubt on it."""
    pulled = MeasuredPoint(slack_length_m=0.6, stretched_length_m=0.6, reading_n=3.0)
    unlike = MeasuredPoint(slack_length_m=0.65, stretched_length_m=1.0, reading_n=9.0)

    assert FlagKind.SLACK_DOUBTFUL in _kinds([pulled, *_points()])
    assert FlagKind.SLACK_DOUBTFUL in _kinds([*_points(), unlike])


def test_too_few_and_too_far_readings_are_refused() -> None:
    """Four readings make no curve; one beyond the limit is left out of it."""
    assert _kinds(_points()[:4]) == [FlagKind.TOO_FEW]

    flags = readings.check(_points(), limit_ratio=2.8)
    assert [flag.kind for flag in flags] == [FlagKind.BEYOND_LIMIT]
    curve = rubber.fit(_points(), limit_ratio=2.8)
    assert curve.most_ratio == pytest.approx(2.75)


def test_a_loop_between_two_hooks_is_read_as_two_strands() -> None:
    """A scale that holds both strands shows twice what one pulls."""
    curve = rubber.fit(_points(strands=2), strands=2)

    assert rubber.tension_n(curve, stretch_ratios=STRETCH) == pytest.approx(
        rubber.tension_n(TRUE, stretch_ratios=STRETCH), rel=1e-3
    )


def test_letting_back_gives_less_and_the_loss_is_told() -> None:
    """Readings while letting back that are a tenth lower are a tenth of the work lost."""
    back = [
        MeasuredPoint(
            slack_length_m=point.slack_length_m,
            stretched_length_m=point.stretched_length_m,
            reading_n=0.9 * point.reading_n,
            phase=Phase.UNLOADING,
        )
        for point in _points()
    ]
    found = rubber.estimate([*_points(), *back], chance=np.random.default_rng(1), draws=5)

    assert rubber.loss_ratio(found) == pytest.approx(0.1, abs=1e-3)
    plain = rubber.estimate(_points(), chance=np.random.default_rng(1), draws=5)
    assert rubber.loss_ratio(plain) is None
    assert plain.curve == found.curve
