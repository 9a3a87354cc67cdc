import math

import numpy as np
import pytest
from tests.fakes import sample_options as samples

from halewright.core.catalogue.movement import MovementId, Option
from halewright.core.mechanics import rising, rubber, skeleton
from halewright.core.people.person import Sex
from halewright.files import movements

YOSHIOKA_NM_PER_KG = 1.53
"""Peak hip plus peak knee of one leg, least strategy: Yoshioka S et al. 2007 Biomed Eng Online
6:26. That it is of one leg is our reading; both legs would need thighs of half the length."""


def _rise(lean_deg: float) -> Option:
    """Rise from level thighs, shanks 12° forward, with so much lean of the trunk."""
    start = samples.both(hip_flexion=lean_deg + 90, knee_flexion=102)
    return samples.option(
        start=start | samples.one(pelvis_tilt=lean_deg), end={}, position=samples.RISE.position
    )


def _body(sex: Sex) -> skeleton.Body:
    return skeleton.body(stature_m=1.70, mass_kg=66.0, sex=sex)


@pytest.mark.parametrize("rise_s", [None, 2.0])
@pytest.mark.parametrize("lean_deg", [25.0, 35.0, 50.0])
def test_hip_and_knee_together_are_as_published(lean_deg: float, rise_s: float | None) -> None:
    """Within 12 % of the published sum: the sum grows with the thigh's share of stature, and
    published thighs differ by that much (0.212 of stature for women, 0.243 for men)."""
    for sex in Sex:
        found = rising.of(body=_body(sex), option=_rise(lean_deg), rise_s=rise_s)
        assert found.sum_nm_per_kg == pytest.approx(YOSHIOKA_NM_PER_KG, rel=0.12)


def test_the_sum_does_not_ask_how_the_trunk_leans() -> None:
    """Leaning 25° or 50° moves load from knee to hip, and leaves their sum to a thousandth."""
    upright, leaning = (rising.of(body=_body(Sex.MALE), option=_rise(lean)) for lean in (25, 50))

    assert leaning.sum_nm_per_kg == pytest.approx(upright.sum_nm_per_kg, rel=1e-3)
    assert leaning.hip_nm[0] > upright.hip_nm[0] + 15.0
    assert leaning.knee_nm[0] < upright.knee_nm[0] - 15.0


def test_the_sum_by_hand() -> None:
    """Half the weight at the thigh's length, less what thigh, shank and foot weigh themselves.

    About the hip all else cancels: sum = g · t · (m/2 - m_foot - m_shank - m_thigh (1 - c)) for a
    level thigh t whose centre is c of its length from the hip.
    """
    body = _body(Sex.FEMALE)
    thigh = body.segment("thigh_left")
    lower_kg = body.segment("shank_left").mass_kg + body.segment("foot_left").mass_kg
    share = -thigh.centre_m[2] / thigh.length_m
    by_hand_nm = 9.80665 * thigh.length_m * (0.5 * body.mass_kg - lower_kg - share * thigh.mass_kg)

    found = rising.of(body=body, option=_rise(30.0))

    assert found.hip_nm[0] + found.knee_nm[0] == pytest.approx(by_hand_nm, rel=1e-6)


def test_a_rise_from_higher_asks_less() -> None:
    """As the thighs leave the level the sum falls, all the way to standing."""
    found = rising.of(body=_body(Sex.FEMALE), option=_rise(30.0))

    total_nm = found.hip_nm + found.knee_nm
    assert np.all(np.diff(total_nm) < 0.01)
    assert abs(total_nm[-1]) < 0.1 * total_nm[0]


def test_standing_ends_with_the_push_under_the_body() -> None:
    """At rest and upright the push passes under the common centre of mass, about mid-foot."""
    found = rising.of(body=_body(Sex.FEMALE), option=_rise(30.0), rise_s=2.0)
    foot_m = _body(Sex.FEMALE).length_m("foot")

    assert 0.0 < found.pressure_m[-1] < foot_m


def test_a_band_underfoot_adds_to_the_legs() -> None:
    """Against a band the same rise asks more of hip and knee together in mid-range."""
    option = movements.shipped()[MovementId("sit-to-stand-band")].standard
    curve = rubber.Curve(linear_n=20.0, softening_n=10.0, stiffening_n=0.0, most_ratio=3.0)
    body = skeleton.REFERENCE_BODY

    plain = rising.of(body=body, option=option)
    banded = rising.of(body=body, option=option, curve=curve, grip_length_m=1.1)

    middle = plain.phase_ratios.size // 2
    more_nm = (banded.hip_nm + banded.knee_nm - plain.hip_nm - plain.knee_nm)[middle]
    assert more_nm > 1.0
    assert math.isfinite(banded.sum_nm_per_kg)
