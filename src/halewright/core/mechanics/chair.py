"""The chair as plain geometry: a seat at the sitter's height, four legs, a back, perhaps arms.

Its origin is the floor under the sitter's hips; x points the way a sitter faces, y to their left.
Sizes are of an ordinary dining or hall chair without wheels: common practice.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Chair:
    """One chair and where it stands; `x_m` is its origin's place in the room."""

    x_m: float
    seat_height_m: float
    half_width_m: float = 0.22
    front_m: float = 0.23
    """From the origin to the seat's front edge."""
    rear_m: float = 0.17
    """From the origin back to the seat's rear edge and the back."""
    back_above_seat_m: float = 0.44
    arm_above_seat_m: float = 0.20
    leg_m: float = 0.036
    has_arms: bool = False

    @property
    def back_top_m(self) -> float:
        """Height of the back's top above the floor."""
        return self.seat_height_m + self.back_above_seat_m


STANDARD_SEAT_M = 0.44
"""Seat height of the chair that a standing person holds: common practice (43 to 46 cm)."""
HOLDING_REACH_M = 0.36
"""From a standing person's hips to the chair back that they hold: common practice."""


def under(*, hip_height_m: float, buttock_m: float, has_arms: bool = False) -> Chair:
    """Return the chair on which the hips rest at this height, soft parts between."""
    return Chair(x_m=0.0, seat_height_m=hip_height_m - buttock_m, has_arms=has_arms)


def in_front() -> Chair:
    """Return the chair whose back a standing person holds, facing away from them."""
    chair = Chair(x_m=0.0, seat_height_m=STANDARD_SEAT_M)
    return Chair(x_m=HOLDING_REACH_M + chair.rear_m, seat_height_m=STANDARD_SEAT_M)
