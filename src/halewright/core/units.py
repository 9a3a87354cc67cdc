"""Constants and the conversions of the edges; inside, all is SI or integer milliseconds."""

import math

STANDARD_GRAVITY_M_PER_S2 = 9.80665
"""Conventional gravity, which a scale marked in kilograms assumes (CIPM 1901, from memory)."""

INCH_M = 0.0254
FOOT_M = 12 * INCH_M
POUND_KG = 0.45359237
STONE_KG = 14 * POUND_KG

SECOND_MS = 1_000
MINUTE_MS = 60 * SECOND_MS


def radians(angle_deg: float) -> float:
    """Convert degrees, as files and screens show them, to radians."""
    return math.radians(angle_deg)


def degrees(angle_rad: float) -> float:
    """Convert radians to degrees for files and screens."""
    return math.degrees(angle_rad)
