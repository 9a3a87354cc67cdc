"""No limb of any movement passes through the body, another limb, the floor or the chair held."""

from dataclasses import replace
from importlib import resources

import numpy as np
import pytest
from tests.fakes import sample_options as samples

from halewright.core.catalogue.movement import Movement, Pose
from halewright.core.catalogue.words import OptionKind
from halewright.core.mechanics import apart
from halewright.files import movements

_FOLDER = resources.files("halewright").joinpath("data/movements")
_CATALOGUE, _ = movements.read_folder(_FOLDER)


def _changed(movement: Movement, angles_rad: dict[str, float]) -> Movement:
    """Return the movement with only its standard way, which ends in other angles."""
    option = movement.option(OptionKind.STANDARD)
    last = option.poses[-1]
    end = Pose(phase_ratio=1.0, angles_rad={**last.angles_rad, **angles_rad})
    return replace(movement, options=(replace(option, poses=(option.poses[0], end)),))


@pytest.mark.parametrize("movement", _CATALOGUE.values(), ids=list(_CATALOGUE))
def test_nothing_passes_through_anything(movement: Movement) -> None:
    """Arms keep out of trunk and head, legs out of each other, feet and knees out of the room."""
    assert [problem.sentence() for problem in apart.check(movement)] == []


def test_overlap_is_the_sum_of_radii_less_the_distance() -> None:
    """Two capsules about one line overlap by both radii: 30 + 40 = 70 mm by hand."""
    start, end = np.zeros((3, 1)), np.array([[0.0], [0.0], [0.2]])

    depth_m = apart.overlap_m((start, end, 0.03, 0.03), (start, end, 0.04, 0.04))

    assert depth_m == pytest.approx(0.07)


@pytest.mark.parametrize(
    ("name", "angles_deg", "told"),
    [
        ("arm-curl", {"shoulder_abduction_right": -40, "shoulder_flexion_right": -5}, "trunk"),
        (
            "knee-lift",
            {"hip_abduction_right": -30, "hip_abduction_left": -30, "hip_flexion_right": 92},
            "thigh",
        ),
        ("standing-knee-lift", {"hip_flexion_right": 88.0}, "chair back"),
    ],
)
def test_what_passes_through_is_told(name: str, angles_deg: dict[str, float], told: str) -> None:
    """A forearm in the waist, crossed thighs and a knee in the chair's back are each found."""
    (movement,) = [item for item in _CATALOGUE.values() if item.id == name]

    problems = [p.read for p in apart.check(_changed(movement, samples.one(**angles_deg)))]

    assert any(told in read for read in problems)
