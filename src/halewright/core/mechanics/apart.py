"""Limbs that pass through the body, another limb, the floor, or the chair that is held.

Each part is a capsule: a line between two joints with a radius at either end, by eye from the
figure of the reference body. Skin and cloth give way, so that a little overlap is allowed.
"""

from collections.abc import Iterator

import numpy as np

from halewright.core.catalogue.movement import Movement, Option
from halewright.core.catalogue.words import Position
from halewright.core.errors import Problem
from halewright.core.mechanics import joints, kinematics
from halewright.core.mechanics.angles import Array
from halewright.core.mechanics.kinematics import Posture
from halewright.core.mechanics.skeleton import REFERENCE_BODY, Vector

PHASES = np.linspace(0.0, 1.0, 9)
SOFT_M = 0.055
"""Skin and cloth give way, and hands are not modelled finger by finger: our rule."""
THIGHS_M = 0.075
"""Soft parts of two thighs side by side: our rule."""
SUNK_M = 0.006
KNEE_RADIUS_M = 0.05

Capsule = tuple[Array, Array, float, float]
"""Both ends over N frames, (3, N) each, and the radius in metres at each."""

_SHARES = np.linspace(0.0, 1.0, 12)
_HEAD: tuple[Vector, Vector] = ((0.02, 0.0, 0.07), (0.01, 0.0, 0.13))
_SHOE: tuple[Vector, Vector] = ((-0.03, 0.0, -0.05), (0.12, 0.0, -0.06))


def check(movement: Movement) -> Iterator[Problem]:
    """Yield every place where a body would pass through something, and how deep."""
    for option in movement.options:
        posture = kinematics.posture(body=REFERENCE_BODY, option=option, phase_ratios=PHASES)
        for read, mend in (
            *_limbs(posture),
            *_floor(posture),
            *_chair(posture, option=option),
        ):
            file = f"{movement.id}.toml"
            yield Problem(file=file, read=f"{option.kind.value}: {read}", mend=mend)


def _limbs(posture: Posture) -> Iterator[tuple[str, str]]:
    parts = capsules(posture)
    for one, other in _pairs():
        allowed_m = THIGHS_M if one.startswith("thigh") else SOFT_M
        depth_m = overlap_m(parts[one], parts[other])
        if depth_m > allowed_m:
            told = f"{one.replace('_', ' ')} {1000.0 * depth_m:.0f} mm inside "
            told += other.replace("_", " ")
            yield told, "Move them apart: open the joint above, or turn it outward."


def _floor(posture: Posture) -> Iterator[tuple[str, str]]:
    for side in joints.SIDES:
        for point in ("heel", "toe"):
            lowest_m = float(posture.point_m(f"{point}_{side}")[2].min())
            if lowest_m < -SUNK_M:
                read = f"{point} {side} {-1000.0 * lowest_m:.0f} mm below the floor"
                yield read, "Bend the hip or the knee more, or let the toes come up."


def _chair(posture: Posture, *, option: Option) -> Iterator[tuple[str, str]]:
    if option.position is not Position.SUPPORTED_STANDING:
        return
    back_m = float(posture.point_m("chair_back_left")[0, 0])
    for side in joints.SIDES:
        reach_m = float(posture.point_m(f"knee_{side}")[0].max()) + KNEE_RADIUS_M
        if reach_m > back_m:
            read = f"{side} knee {1000.0 * (reach_m - back_m):.0f} mm into the chair back"
            yield read, "Lift the knee less."


def capsules(posture: Posture) -> dict[str, Capsule]:
    """Return every part of the body by its name and side."""
    at, place = posture.origins_m, posture.located_m
    head = tuple(place(owner="head", at_m=end) for end in _HEAD)
    found: dict[str, Capsule] = {"head": (head[0], head[1], 0.075, 0.085)}
    for side, sign in (("left", 1.0), ("right", -1.0)):
        low = place(owner="lower_trunk", at_m=(-0.01, sign * 0.07, 0.02))
        high = place(owner="upper_trunk", at_m=(0.0, sign * 0.08, 0.06))
        heel, ball = (place(owner=f"foot_{side}", at_m=end) for end in _SHOE)
        found |= {
            f"upper_arm_{side}": (at[f"upper_arm_{side}"], at[f"forearm_{side}"], 0.045, 0.036),
            f"forearm_{side}": (at[f"forearm_{side}"], at[f"hand_{side}"], 0.035, 0.027),
            f"hand_{side}": (at[f"hand_{side}"], posture.point_m(f"grip_{side}"), 0.027, 0.030),
            f"trunk_{side}": (low, high, 0.095, 0.085),
            f"thigh_{side}": (at[f"thigh_{side}"], at[f"shank_{side}"], 0.080, 0.058),
            f"shank_{side}": (at[f"shank_{side}"], at[f"foot_{side}"], 0.055, 0.040),
            f"foot_{side}": (heel, ball, 0.038, 0.030),
        }
    return found


def _pairs() -> tuple[tuple[str, str], ...]:
    """Return the parts that must keep apart; neighbours along a limb are left out."""
    pairs = [(f"{name}_left", f"{name}_right") for name in ("hand", "forearm", "shank", "foot")]
    for side, other in (joints.SIDES, joints.SIDES[::-1]):
        body = ("trunk_left", "trunk_right", "head", "thigh_left", "thigh_right")
        pairs += [(f"{arm}_{side}", part) for arm in ("forearm", "hand") for part in body]
        pairs += [(f"{arm}_{side}", f"upper_arm_{other}") for arm in ("forearm", "hand")]
        pairs += [(f"hand_{side}", f"forearm_{other}"), (f"foot_{side}", f"shank_{other}")]
    return (*pairs, ("thigh_left", "thigh_right"))


def overlap_m(one: Capsule, other: Capsule) -> float:
    """Return how deep two capsules are in each other at the worst moment; negative when apart."""
    (here, one_m), (there, other_m) = _beads(one), _beads(other)
    apart_m = np.linalg.norm(here[:, :, None, :] - there[:, None, :, :], axis=0)
    return float((one_m[:, None, None] + other_m[None, :, None] - apart_m).max())


def _beads(capsule: Capsule) -> tuple[Array, Array]:
    """Return spheres along a capsule: centres (3, M, N) and radii (M,)."""
    start, end, first_m, last_m = capsule
    at = start[:, None, :] + (end - start)[:, None, :] * _SHARES[None, :, None]
    return at, first_m + (last_m - first_m) * _SHARES
