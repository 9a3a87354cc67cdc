"""No limb of any movement passes through the body, another limb, the floor or the chair held."""

import itertools
from importlib import resources

import numpy as np
import numpy.typing as npt
import pytest

from halewright.core.catalogue.movement import Movement
from halewright.core.catalogue.words import Position
from halewright.core.mechanics import joints, kinematics
from halewright.core.mechanics.kinematics import Posture
from halewright.core.mechanics.skeleton import REFERENCE_BODY
from halewright.files import movements

_FOLDER = resources.files("halewright").joinpath("data/movements")
_CATALOGUE, _ = movements.read_folder(_FOLDER)
PHASES = np.linspace(0.0, 1.0, 9)

SOFT_M = 0.055
"""Skin and cloth give way, and hands are not modelled finger by finger: our rule."""
THIGHS_M = 0.075
"""Soft parts of two thighs side by side: our rule."""
SUNK_M = 0.006
KNEE_RADIUS_M = 0.05

Array = npt.NDArray[np.float64]
Capsule = tuple[Array, Array, float, float]
"""Both ends over the frames (3, N), and the radius at each, by eye from the figure."""


def _capsules(posture: Posture) -> dict[str, Capsule]:
    at, place = posture.origins_m, posture.located_m
    found: dict[str, Capsule] = {
        "head": (
            place(owner="head", at_m=(0.02, 0.0, 0.07)),
            place(owner="head", at_m=(0.01, 0.0, 0.13)),
            0.075,
            0.085,
        )
    }
    for side, sign in (("left", 1.0), ("right", -1.0)):
        low = place(owner="lower_trunk", at_m=(-0.01, sign * 0.07, 0.02))
        high = place(owner="upper_trunk", at_m=(0.0, sign * 0.08, 0.06))
        found |= {
            f"upper_arm_{side}": (at[f"upper_arm_{side}"], at[f"forearm_{side}"], 0.045, 0.036),
            f"forearm_{side}": (at[f"forearm_{side}"], at[f"hand_{side}"], 0.035, 0.027),
            f"hand_{side}": (at[f"hand_{side}"], posture.point_m(f"grip_{side}"), 0.027, 0.030),
            f"trunk_{side}": (low, high, 0.095, 0.085),
            f"thigh_{side}": (at[f"thigh_{side}"], at[f"shank_{side}"], 0.080, 0.058),
            f"shank_{side}": (at[f"shank_{side}"], at[f"foot_{side}"], 0.055, 0.040),
            f"foot_{side}": (
                place(owner=f"foot_{side}", at_m=(-0.03, 0.0, -0.05)),
                place(owner=f"foot_{side}", at_m=(0.12, 0.0, -0.06)),
                0.038,
                0.030,
            ),
        }
    return found


def _pairs() -> tuple[tuple[str, str], ...]:
    pairs = [(f"{name}_left", f"{name}_right") for name in ("hand", "forearm", "shank", "foot")]
    for side, other in (joints.SIDES, joints.SIDES[::-1]):
        body = ("trunk_left", "trunk_right", "head", "thigh_left", "thigh_right")
        pairs += [(f"{arm}_{side}", part) for arm in ("forearm", "hand") for part in body]
        pairs += [(f"{arm}_{side}", f"upper_arm_{other}") for arm in ("forearm", "hand")]
        pairs += [(f"hand_{side}", f"forearm_{other}"), (f"foot_{side}", f"shank_{other}")]
    return (*pairs, ("thigh_left", "thigh_right"))


def _overlap_m(one: Capsule, other: Capsule) -> float:
    """Return how deep two capsules are in each other at the worst moment; negative when apart."""
    shares = np.linspace(0.0, 1.0, 12)

    def beads(capsule: Capsule) -> tuple[Array, Array]:
        start, end, first_m, last_m = capsule
        at = start[:, None, :] + (end - start)[:, None, :] * shares[None, :, None]
        return at, first_m + (last_m - first_m) * shares

    (here, one_m), (there, other_m) = beads(one), beads(other)
    apart = np.linalg.norm(here[:, :, None, :] - there[:, None, :, :], axis=0)
    return float((one_m[:, None, None] + other_m[None, :, None] - apart).max())


def _postures(movement: Movement) -> list[tuple[str, Position, Posture]]:
    return [
        (
            option.kind.value,
            option.position,
            kinematics.posture(body=REFERENCE_BODY, option=option, phase_ratios=PHASES),
        )
        for option in movement.options
    ]


each_movement = pytest.mark.parametrize("movement", _CATALOGUE.values(), ids=list(_CATALOGUE))


@each_movement
def test_no_limb_passes_through_another(movement: Movement) -> None:
    """Arms keep out of trunk, head and thighs, and legs out of each other, in every way."""
    through = []
    for kind, _, posture in _postures(movement):
        parts = _capsules(posture)
        for one, other in _pairs():
            allowed_m = THIGHS_M if one.startswith("thigh") else SOFT_M
            depth_m = _overlap_m(parts[one], parts[other])
            if depth_m > allowed_m:
                through.append(f"{kind}: {one} {1000 * depth_m:.0f} mm into {other}")

    assert through == []


@each_movement
def test_no_foot_sinks_into_the_floor(movement: Movement) -> None:
    """Heels and balls of the feet stay above the floor, but for rounding."""
    for (_, _, posture), side in itertools.product(_postures(movement), joints.SIDES):
        for point in ("heel", "toe"):
            assert float(posture.point_m(f"{point}_{side}")[2].min()) > -SUNK_M


@each_movement
def test_no_knee_strikes_the_chair_that_is_held(movement: Movement) -> None:
    """A person who stands behind a chair never lifts a knee into its back."""
    for _, position, posture in _postures(movement):
        if position is Position.SUPPORTED_STANDING:
            back_m = float(posture.point_m("chair_back_left")[0, 0])
            for side in joints.SIDES:
                reach_m = float(posture.point_m(f"knee_{side}")[0].max())
                assert reach_m + KNEE_RADIUS_M < back_m


def test_a_hand_in_the_chest_is_told() -> None:
    """Two capsules about one line overlap by both radii: 30 + 40 = 70 mm by hand."""
    start, end = np.zeros((3, 1)), np.array([[0.0], [0.0], [0.2]])

    depth_m = _overlap_m((start, end, 0.03, 0.03), (start, end, 0.04, 0.04))

    assert depth_m == pytest.approx(0.07)
