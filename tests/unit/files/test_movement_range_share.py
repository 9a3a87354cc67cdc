import math
from pathlib import Path

import pytest

from halewright.core.catalogue.movement import Movement
from halewright.core.catalogue.words import OptionKind
from halewright.files import movements

_TEXT = """
schema = "halewright.movement"
version = 1
id = "lift"
name = "Lift"
part = "main"
pattern = "hip_flexion"
prime_movers = ["hip_flexors"]
helper_muscles = []
goals = ["stairs"]
source = "common practice"
[teaching]
start = "Sit."
set_up = "No band."
points = ["Lift."]
breath = "Breathe."
faults = ["Haste."]
safety = "Stop if it hurts."
daily_life = "Stairs."
[standard]
how = "Lift a knee."
position = "seated"
set_up = "none"
support = "none"
sides = "each"
tempo = { out_s = 2, hold_s = 1, back_s = 2 }
poses = [
  { phase = 0, angles_deg = {} },
  { phase = 1, angles_deg = { hip_flexion_right = 110 } },
]
[gentler]
how = "Lift a little."
range_share = 0.5
"""


def test_half_the_range_starts_from_the_positions_own_pose(tmp_path: Path) -> None:
    """Seated hips start at 90°, so half of a lift to 110° ends at 100°, not at 55°."""
    place = tmp_path / "lift.toml"
    place.write_text(_TEXT, "utf-8")

    movement = movements.read(place)

    assert isinstance(movement, Movement)
    first, last = movement.option(OptionKind.GENTLER).poses
    assert first.angles_rad.get("hip_flexion_right", math.pi / 2) == pytest.approx(math.pi / 2)
    assert last.angles_rad["hip_flexion_right"] == pytest.approx(math.radians(100.0))
