import numpy as np
import pytest
from tests.fakes import sample_options as samples

from halewright.core.mechanics import geometry, grips, kit_use, loads, rubber
from halewright.core.mechanics.loads import Load
from halewright.core.mechanics.skeleton import REFERENCE_BODY as BODY
from halewright.core.people.kit import Band, BandLabel, Material, Shape

LAW = rubber.Estimate(
    curve=rubber.Curve(linear_n=9.0, softening_n=9.0, stiffening_n=0.2, most_ratio=2.5),
    draws_n=np.array([[9.0, 9.0, 0.2]]),
)


def _band(*, length_m: float | None = None, shape: Shape = Shape.STRIP) -> Band:
    return Band(label=BandLabel("Oak"), material=Material.LATEX, length_m=length_m, shape=shape)


def test_loops_go_round_and_strips_go_along() -> None:
    """A closed way takes a loop, an open one a strip, a way without a band neither."""
    bare = samples.option(start={}, end={})
    for option, shape in ((samples.KNEES_APART, Shape.LOOP), (samples.ROW, Shape.STRIP)):
        assert kit_use.takes(option, shape=shape)
        assert not kit_use.takes(option, shape=next(each for each in Shape if each is not shape))
    assert not any(kit_use.takes(bare, shape=shape) for shape in Shape)
    assert kit_use.strands_read(_band(shape=Shape.LOOP)) == 2
    assert kit_use.strands_read(_band()) == 1


def test_a_band_must_reach_round_the_hands_too() -> None:
    """Held by two hands, 0.7 m of grip needs 0.7 + 2 · 0.12 = 0.94 m; unknown lengths pass."""
    load = loads.of(body=BODY, option=samples.ROTATION, law=LAW, grip_length_m=0.7)
    assert isinstance(load, Load)

    assert kit_use.is_long_enough(load, band=_band(length_m=0.94))
    assert not kit_use.is_long_enough(load, band=_band(length_m=0.93))
    assert kit_use.is_long_enough(load, band=_band())


def test_a_snug_grip_is_just_taut_or_as_short_as_the_band_allows() -> None:
    """Taut by a twentieth where the range allows it; else at the reach, and slack at the start."""
    for option, reach in ((samples.ROW, 2.5), (samples.ROTATION, 1.4)):
        shape = geometry.of(body=BODY, option=option)
        grip_m = grips.snug_m(geometry=shape, law=LAW, limit_ratio=reach)
        found = loads.given(geometry=shape, law=LAW, grip_length_m=grip_m, limit_ratio=reach)
        assert isinstance(found, Load)
        assert found.stretch_most_ratio <= reach + 1e-9
        snug = found.stretch_start_ratio == pytest.approx(grips.SNUG_RATIO)
        assert snug or found.stretch_most_ratio == pytest.approx(reach)


@pytest.mark.parametrize(
    ("tension_n", "interval_n", "words"),
    [
        (33.0, (29.0, 38.0), "35 N (25 to 40 N)"),
        (9.9, (4.0, 13.0), "light (0 to 15 N)"),
        (10.0, (5.0, 15.0), "10 N (5 to 15 N)"),
    ],
)
def test_loads_are_shown_as_they_can_be_trusted(
    tension_n: float, interval_n: tuple[float, float], words: str
) -> None:
    """Steps of 5 N, the interval rounded outwards, and "light" below 10 N."""
    assert loads.shown(tension_n=tension_n, interval_n=interval_n) == words


def test_exactly_one_way_of_holding_is_asked_for() -> None:
    """Neither none nor two: a call that says both a grip and a tension is a mistake."""
    shape = geometry.of(body=BODY, option=samples.ROW)

    with pytest.raises(ValueError, match="one of"):
        loads.given(geometry=shape, law=LAW)
    with pytest.raises(ValueError, match="one of"):
        loads.given(geometry=shape, law=LAW, grip_length_m=0.5, target_tension_n=9.0)
