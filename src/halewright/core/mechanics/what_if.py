"""What changes if: the same band gripped shorter or longer, a taller or shorter person, a higher
chair. Each is computed anew; peaks are never scaled."""

from collections.abc import Iterator
from dataclasses import dataclass

from halewright.core.catalogue.movement import Option
from halewright.core.catalogue.words import Position
from halewright.core.mechanics import geometry as geometries
from halewright.core.mechanics import loads, skeleton
from halewright.core.mechanics.loads import Load, NoLoad
from halewright.core.mechanics.rubber import Estimate
from halewright.core.mechanics.skeleton import Body

GRIP_STEP_M = 0.03
STATURE_STEP_M = 0.10
SEAT_STEP_M = 0.05
"""About what a hand's breadth, two neighbours and a cushion differ by: our choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One row: what is different, in words, and the load then."""

    words: str
    load: Load | NoLoad


def table(
    *,
    body: Body,
    option: Option,
    law: Estimate,
    grip_length_m: float,
    strands: int | None = None,
    limit_ratio: float = loads.LIMIT_RATIO,
) -> tuple[Change, ...]:
    """Return the load as it is, and as it would be with one thing changed at a time.

    Grip stays at its mark where the person or the chair changes. A higher chair is told for those
    who stay seated; what it does to a rise is in `rising`.
    """

    def load(
        *, who: Body = body, grip_m: float = grip_length_m, seat_rise_m: float = 0.0
    ) -> Load | NoLoad:
        shape = geometries.of(body=who, option=option, strands=strands, seat_rise_m=seat_rise_m)
        return loads.given(geometry=shape, law=law, grip_length_m=grip_m, limit_ratio=limit_ratio)

    def changes() -> Iterator[Change]:
        yield Change(words="as it is", load=load())
        if not any(path.closed for path in option.paths):
            step_cm = round(100.0 * GRIP_STEP_M)
            shorter_m, longer_m = grip_length_m - GRIP_STEP_M, grip_length_m + GRIP_STEP_M
            yield Change(words=f"gripped {step_cm} cm shorter", load=load(grip_m=shorter_m))
            yield Change(words=f"gripped {step_cm} cm longer", load=load(grip_m=longer_m))
        step_cm = round(100.0 * STATURE_STEP_M)
        for sign, word in ((1.0, "taller"), (-1.0, "shorter")):
            who = _grown(body, by_m=sign * STATURE_STEP_M)
            yield Change(words=f"a person {step_cm} cm {word}", load=load(who=who))
        if option.position is Position.SEATED:
            step_cm = round(100.0 * SEAT_STEP_M)
            yield Change(words=f"a chair {step_cm} cm higher", load=load(seat_rise_m=SEAT_STEP_M))

    return tuple(changes())


def _grown(body: Body, *, by_m: float) -> Body:
    """Return the body of another stature with the same mass for its height."""
    stature_m = body.stature_m + by_m
    mass_kg = body.mass_kg * (stature_m / body.stature_m) ** 2
    return skeleton.body(stature_m=stature_m, mass_kg=mass_kg, sex=body.sex)
