"""The picture of a person doing an option: still, frames for a screen, and words for a reader.

Drawn from the same joint angles that the mechanics uses. The ground is transparent; what belongs
to the band is coral with a dark edge, and nothing else is.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from halewright.core.catalogue.movement import Movement, Option
from halewright.core.mechanics import angles, kinematics
from halewright.core.mechanics.kinematics import Posture
from halewright.core.mechanics.skeleton import REFERENCE_BODY, Body
from halewright.media import (
    figure_people,
    figure_person,
    figure_scene,
    figure_views,
    figure_words,
    outline,
)
from halewright.media.camera import Camera
from halewright.media.figure_parts import Sketch
from halewright.media.figure_people import Look
from halewright.media.figure_seats import Seat
from halewright.media.figure_views import View

FRAMES_SCHEMA = "halewright.figure"
FRAMES_VERSION = 1

_WAY = np.linspace(0.0, 1.0, 9)
_FINE_WAY = np.linspace(0.0, 1.0, 33)


def svg(
    option: Option,
    *,
    view: View | str = View.THREE_QUARTER,
    phase_ratio: float = 1.0,
    ghost: bool = True,
    labels: tuple[str, str] = ("", ""),
    seat: Seat = Seat.CHAIR,
    look: Look = figure_people.DEFAULT,
    body: Body | None = None,
) -> str:
    """Return one still as an SVG document with a transparent ground.

    `ghost` shows faintly where the limbs began, and the way of what moves most. `view` is one of
    `figure_views.View`; ValueError for another. Its size is that of its box; give it a width or
    height where it is placed, and `describe` beside it for those who cannot see it. `labels` are
    the words for the person's left and right, shown at the feet; `seat` is what a seated person
    sits on. The person is `look`, with that look's own body where `body` is None.
    """
    body = body or look.body
    phases = np.concatenate(([phase_ratio], _WAY))
    posture = kinematics.posture(body=body, option=option, phase_ratios=phases)
    whole = kinematics.posture(body=body, option=option, phase_ratios=_FINE_WAY)
    eye = figure_views.eye(option=option, posture=whole, view=View(view))
    frame = figure_scene.extent(postures=(posture,), eye=eye)
    start = Sketch(posture=posture, frame=1, camera=eye, look=look) if ghost else None
    sketch = Sketch(posture=posture, frame=0, camera=eye, look=look)
    shapes = figure_scene.painted(sketch, option=option, ghost=start, seat=seat)
    way = (
        figure_scene.trace(option=option, posture=whole, eye=eye)
        if ghost and phase_ratio > 0.5
        else ""
    )
    drawn = "".join(f'<path fill="{fill}" d="{data}"/>' for fill, data in shapes)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{frame.view_box}" role="img">'
        f"{figure_scene.floor(posture=posture, eye=eye)}"
        f'<g transform="scale({1 / outline.FINE:g})">{drawn}</g>{way}'
        f"{figure_scene.side_labels(sketch, words=labels)}</svg>"
    )


@dataclass(frozen=True, slots=True)
class _Book:
    """Paths and fills written once each, by their number."""

    paths: dict[str, int] = field(default_factory=dict)
    fills: dict[str, int] = field(default_factory=dict)

    def written(self, shapes: list[tuple[str, str]]) -> list[int]:
        """Return a picture as the numbers of its paths and fills by turns."""
        picture = []
        for fill, data in shapes:
            picture.append(self.paths.setdefault(data, len(self.paths)))
            picture.append(self.fills.setdefault(fill, len(self.fills)))
        return picture


def frames(
    option: Option,
    *,
    view: View | str = View.THREE_QUARTER,
    count: int = 12,
    seat: Seat = Seat.CHAIR,
    look: Look = figure_people.DEFAULT,
    body: Body | None = None,
) -> Mapping[str, Any]:
    """Return `count` pictures from the start to the far end, to be played out and back.

    A picture is a flat list p, f, p, f … from back to front: `paths[p]` filled with `fills[f]`, in
    units of `scale`, at its phase ratio of `phases`. `sides` holds "right", and "left" in turns.
    """
    body = body or look.body
    phases = np.linspace(0.0, 1.0, max(2, count))
    ways = _by_side(option)
    postures = {
        side: kinematics.posture(body=body, option=way, phase_ratios=phases)
        for side, way in ways.items()
    }
    whole = kinematics.posture(body=body, option=option, phase_ratios=_FINE_WAY)
    eye = figure_views.eye(option=option, posture=whole, view=View(view))
    book = _Book()
    sides = {}
    for side, posture in postures.items():
        drawn = _pictures(ways[side], posture=posture, eye=eye, look=look, seat=seat)
        sides[side] = [book.written(shapes) for shapes in drawn]
    return {
        "schema": FRAMES_SCHEMA,
        "version": FRAMES_VERSION,
        "view": View(view).value,
        "view_box": figure_scene.extent(postures=tuple(postures.values()), eye=eye).view_box,
        "floor": figure_scene.floor(posture=postures["right"], eye=eye),
        "scale": 1 / outline.FINE,
        "phases": [round(float(phase), 4) for phase in phases],
        "fills": list(book.fills),
        "paths": list(book.paths),
        "sides": sides,
    }


def _by_side(option: Option) -> dict[str, Option]:
    """Return the option as authored, and its mirror where the sides take turns."""
    turns = angles.takes_turns(option)
    return {"right": option, **({"left": angles.mirrored(option)} if turns else {})}


def _pictures(
    option: Option, *, posture: Posture, eye: Camera, look: Look, seat: Seat
) -> Iterator[list[tuple[str, str]]]:
    kept: figure_person.Kept = {}
    for number in range(posture.count):
        sketch = Sketch(posture=posture, frame=number, camera=eye, look=look)
        yield figure_scene.painted(sketch, option=option, ghost=None, seat=seat, kept=kept)


def views(movement: Movement, option: Option) -> tuple[View, View]:
    """Return the two views that show an option best: the movement's own, or those that score best.

    A movement that names one view keeps it as the first. Raises ValueError for a name that is not
    one of `figure_views.View`.
    """
    whole = kinematics.posture(body=REFERENCE_BODY, option=option, phase_ratios=_FINE_WAY)
    first, second = figure_views.best(option=option, posture=whole)
    told = [View(name) for name in movement.views]
    first, second, *_ = [*told, *(view for view in (first, second) if view not in told)]
    return first, second


def describe(movement: Movement, option: Option) -> str:
    """Return the picture in words, for people who hear the page rather than see it."""
    return figure_words.describe(movement=movement, option=option)
