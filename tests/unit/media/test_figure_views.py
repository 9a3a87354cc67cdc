"""Where a figure is seen from: the view that shows most of what moves."""

from dataclasses import replace

import numpy as np
import pytest
from tests.fakes import sample_options as samples

from halewright.core.catalogue import words
from halewright.core.catalogue.movement import MovementId, Option
from halewright.core.mechanics import angles, kinematics
from halewright.core.mechanics.kinematics import Posture
from halewright.core.mechanics.skeleton import REFERENCE_BODY
from halewright.files import movements
from halewright.media import figure, figure_views
from halewright.media.figure_views import View

WAY = np.linspace(0.0, 1.0, 17)


def _posture(option: Option) -> Posture:
    return kinematics.posture(body=REFERENCE_BODY, option=option, phase_ratios=WAY)


def _score(option: Option, view: View) -> float:
    return figure_views.score(option=option, posture=_posture(option), view=view)


@pytest.mark.parametrize("name", list(samples.SAMPLES))
@pytest.mark.parametrize("view", list(View)[2:])
def test_a_score_is_a_share(name: str, view: View) -> None:
    """A view shows between nothing and all of a movement."""
    assert 0.0 <= _score(samples.SAMPLES[name], view) <= 1.0


def test_files_may_name_every_fixed_view() -> None:
    """What a movement file may ask for is what the figure can be seen from, name by name."""
    assert [view.value for view in words.FigureView] == [view.value for view in list(View)[2:]]


def test_knees_that_part_are_seen_from_the_front() -> None:
    """What goes sideways goes along the line of sight of the side view, and across the front's."""
    assert _score(samples.KNEES_APART, View.FRONT) > _score(samples.KNEES_APART, View.RIGHT_SIDE)


def test_a_curl_is_seen_from_its_own_side() -> None:
    """The right arm's curl shows more from the right; its mirror image as much from the left."""
    right = _score(samples.CURL_RIGHT, View.RIGHT_SIDE)

    assert right > _score(samples.CURL_RIGHT, View.LEFT_SIDE)
    mirrored = angles.mirrored(samples.CURL_RIGHT)
    assert _score(mirrored, View.LEFT_SIDE) == pytest.approx(right, abs=1e-9)


@pytest.mark.parametrize("name", ["thumb-up-raise", "draw-the-sword"])
def test_an_arm_drawn_across_is_seen_from_where_the_band_shows(name: str) -> None:
    """From the right the working arm would hide its own band: the left front quarter is chosen."""
    movement = movements.shipped()[MovementId(name)]

    assert figure.views(movement, movement.standard)[0] is View.LEFT_QUARTER


def test_a_movement_may_name_its_own_views() -> None:
    """A named view comes first and the best computed one fills up; a wrong name is refused."""
    movement = samples.movement(samples.ROW)

    named = replace(movement, views=("front",))

    assert figure.views(movement, samples.ROW) == (View.RIGHT_QUARTER, View.RIGHT_SIDE)
    assert figure.views(named, samples.ROW) == (View.FRONT, View.RIGHT_QUARTER)
    with pytest.raises(ValueError, match="upside_down"):
        figure.views(replace(movement, views=("upside_down",)), samples.ROW)
