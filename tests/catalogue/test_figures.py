from importlib import resources

import pytest

from halewright.core.catalogue.movement import Movement
from halewright.files import movements
from halewright.media import figure

_FOLDER = resources.files("halewright").joinpath("data/movements")
_CATALOGUE, _ = movements.read_folder(_FOLDER)
_SOME = [movement for k, movement in enumerate(_CATALOGUE.values()) if k % 7 == 0]


@pytest.mark.parametrize("movement", _SOME, ids=[movement.id for movement in _SOME])
def test_a_shipped_movement_can_be_drawn_and_told(movement: Movement) -> None:
    """Every seventh movement, each option: a still of at most 40 kB, and words with its name."""
    for option in movement.options:
        assert len(figure.svg(option).encode()) <= 40_000
        assert figure.describe(movement, option).startswith(movement.name)


@pytest.mark.parametrize("movement", _CATALOGUE.values(), ids=list(_CATALOGUE))
def test_a_shipped_movement_has_two_views(movement: Movement) -> None:
    """Each movement's standard way has two different views, its own names among them understood."""
    first, second = figure.views(movement, movement.standard)

    assert first is not second
