"""The hall screen's document: what is in it, and what its types cannot hold."""

import dataclasses
import typing
from collections.abc import Iterator
from enum import Enum
from typing import Any

import pytest

from halewright.core.catalogue.movement import MovementId
from halewright.core.catalogue.words import SetUp, Side
from halewright.core.errors import UnknownMovement
from halewright.core.session import hall, layout
from halewright.core.session.timeline import Cue, CueKind, Event, EventKind, Timeline
from halewright.files import movements

CURL, LOOP = MovementId("arm-curl"), MovementId("knees-apart-loop")


def _timeline(*events: tuple[EventKind, int, dict[str, Any]]) -> Timeline:
    """Lay out events one after the other; each is a kind, its seconds and further fields."""
    laid, at_ms = [], 0
    for kind, length_s, more in events:
        end_ms = at_ms + length_s * 1000
        given = {"title": "Rose Court with Ada", **more}
        laid.append(Event(kind=kind, start_ms=at_ms, end_ms=end_ms, **given))
        at_ms = end_ms
    cue = Cue(at_ms=0, kind=CueKind.WELCOME, words="Welcome.")
    return Timeline(slot_ms=at_ms, events=tuple(laid), cues=(cue,))


def _circuit() -> Timeline:
    return _timeline(
        (EventKind.WELCOME, 60, {}),
        (EventKind.GET_READY, 30, {"set_up": SetUp.UNDER_FEET, "title": layout.GET_READY}),
        (EventKind.WORK, 40, {"movement": CURL, "round": 1, "side": Side.BOTH}),
        (EventKind.CHANGEOVER, 25, {"set_up": SetUp.ROUND_THIGHS, "round": 1}),
        (EventKind.WORK, 40, {"movement": LOOP, "round": 1, "side": Side.LEFT}),
        (EventKind.WATER, 60, {"set_up": SetUp.NONE, "title": layout.BANDS_DOWN}),
        (EventKind.WORK, 40, {"movement": CURL, "round": 2, "side": Side.BOTH}),
        (EventKind.CLOSE, 60, {}),
    )


def _document(timeline: Timeline) -> hall.HallDocument:
    return hall.hall_document(timeline=timeline, catalogue=movements.shipped(), figures={})


def test_times_and_kinds_are_the_timelines_own() -> None:
    """The screen runs to the same milliseconds as the run sheet and the voice."""
    timeline = _circuit()

    document = _document(timeline)

    told = [(event.kind, event.start_ms, event.end_ms) for event in document.events]
    assert told == [(event.kind, event.start_ms, event.end_ms) for event in timeline.events]
    assert document.slot_ms == timeline.slot_ms
    assert [cue.words for cue in document.cues] == ["Welcome."]


def test_titles_are_taken_from_closed_lists_only() -> None:
    """Whatever a timeline's title says, only known words and movements' names are shown."""
    document = _document(_circuit())

    assert [event.title for event in document.events] == [
        "Welcome",
        "Bands out and checked",
        "Arm curl",
        "Change over",
        movements.shipped()[LOOP].name,
        "Bands down, water",
        "Arm curl",
        "Well done",
    ]


def test_rounds_and_stations_are_counted() -> None:
    """Two movements, the first again in the second round."""
    document = _document(_circuit())

    told = [(e.round, e.rounds, e.station, e.stations) for e in document.events if e.movement]
    assert told == [(1, 2, 1, 2), (1, 2, 2, 2), (2, 2, 1, 2)]


def test_a_change_of_set_up_is_told_once_where_the_band_moves() -> None:
    """Ready, changeover and bands down move it; the second round's curl has no changeover."""
    document = _document(_circuit())

    changes = [event.set_up_changes for event in document.events]
    assert changes == [False, True, False, True, False, True, True, False]


def test_what_comes_is_the_main_thing_in_changeovers_but_not_in_tests() -> None:
    """A rest for the tests is about the tests, not about the cool-down after them."""
    document = _document(
        _timeline(
            (EventKind.CHANGEOVER, 20, {}),
            (EventKind.WORK, 40, {"movement": CURL, "round": 1}),
            (EventKind.REST, 900, {"title": layout.TESTS}),
            (EventKind.COOL_DOWN, 40, {"movement": LOOP}),
            (EventKind.REST, 40, {}),
        )
    )

    assert [event.next_first for event in document.events] == [True, False, False, False, False]
    assert document.events[2].title == "Tests"


def test_the_pace_is_the_movements_tempo_in_milliseconds() -> None:
    """Out, hold, back and pause add up to one repetition."""
    tempo = movements.shipped()[CURL].standard.tempo

    pace = _document(_circuit()).events[2].pace

    assert pace is not None
    assert pace.rep_ms == round(tempo.rep_s * 1000)


def test_at_most_three_teaching_points_are_shown() -> None:
    """More cannot be read from a chair."""
    assert all(len(event.points) <= 3 for event in _document(_circuit()).events)


def test_a_movement_that_the_catalogue_lacks_is_named() -> None:
    """The error says which."""
    timeline = _timeline((EventKind.WORK, 40, {"movement": MovementId("no-such"), "round": 1}))

    with pytest.raises(UnknownMovement, match="no-such"):
        _document(timeline)


def test_figures_of_other_movements_are_left_out() -> None:
    """Only what is played is loaded."""
    drawn = {
        "view_box": "0 0 1 1",
        "floor": "",
        "scale": 1,
        "fills": [],
        "paths": [],
        "sides": {"right": [[]]},
    }
    figure = hall.figure_of(frames=drawn, description="somebody in a chair")

    document = hall.hall_document(
        timeline=_circuit(),
        catalogue=movements.shipped(),
        figures={CURL: figure, MovementId("other"): figure},
    )

    assert list(document.figures) == [CURL]


def _fields(kind: type) -> Iterator[tuple[str, Any]]:
    """Yield the name and type of every field that a document can hold, at any depth."""
    hints = typing.get_type_hints(kind)
    for field in dataclasses.fields(kind):
        yield f"{kind.__name__}.{field.name}", hints[field.name]
        for inner in _inside(hints[field.name]):
            if dataclasses.is_dataclass(inner) and isinstance(inner, type):
                yield from _fields(inner)


def _inside(hint: Any) -> Iterator[Any]:
    arguments = typing.get_args(hint)
    if not arguments:
        yield hint
    for argument in arguments:
        yield from _inside(argument)


def test_no_field_can_hold_a_person() -> None:
    """Every field is listed here: adding one means thinking about who sees it."""
    text = {name for name, hint in _fields(hall.HallDocument) if str in set(_inside(hint))}

    assert text == {
        "HallEvent.title",  # a closed list, or the catalogue's name of a movement
        "HallEvent.side_words",  # a closed list
        "HallEvent.set_up_words",  # a closed list
        "HallEvent.set_up_how",  # the catalogue's words, as are the next five
        "HallEvent.gentler",
        "HallEvent.stronger",
        "HallEvent.points",
        "HallEvent.breath",
        "HallEvent.safety",
        "HallCue.words",  # the timeline's cues, which are made from the catalogue
        "HallFigure.description",  # drawn from the catalogue, as are the next four
        "HallFigure.view_box",
        "HallFigure.floor",
        "HallFigure.fills",
        "HallFigure.paths",
    }
    for name, hint in _fields(hall.HallDocument):
        for inner in _inside(hint):
            known = inner in {str, int, float, bool, type(None), Ellipsis, MovementId}
            assert known or issubclass(inner, Enum) or dataclasses.is_dataclass(inner), name


def test_the_builder_is_never_given_a_person() -> None:
    """It takes the timeline, the catalogue and pictures; it cannot show what it does not have."""
    given = typing.get_type_hints(hall.hall_document)

    assert set(given) == {"timeline", "catalogue", "figures", "title", "return"}
