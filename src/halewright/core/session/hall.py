"""What the hall screen shows: one session, and nothing about anyone.

The room sees this screen, so the types here have no field that could hold a person, a group, a
venue or a note: every word comes from the catalogue, from a closed list, or from the timeline's
cues. The builder is never given the outline, so it could not show a person if it tried.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Any

from halewright.core.catalogue.movement import Catalogue, Movement, MovementId, Tempo
from halewright.core.catalogue.words import OptionKind, SetUp, Side
from halewright.core.errors import UnknownMovement
from halewright.core.session import layout
from halewright.core.session.timeline import CueKind, Event, EventKind, Timeline
from halewright.core.units import SECOND_MS

MOST_POINTS_COUNT = 3
"""Teaching points on the screen at once; more are not read from a chair (common practice)."""


class HallTitle(StrEnum):
    """The only titles that a hall screen can have."""

    SESSION = "Tonight’s session"
    SAMPLE = "Sample session"


@dataclass(frozen=True, slots=True, kw_only=True)
class HallPace:
    """The parts of one repetition, in order: out, hold, back, pause."""

    out_ms: int
    hold_ms: int
    back_ms: int
    pause_ms: int

    @property
    def rep_ms(self) -> int:
        """How long one repetition lasts."""
        return self.out_ms + self.hold_ms + self.back_ms + self.pause_ms


@dataclass(frozen=True, slots=True, kw_only=True)
class HallEvent:
    """A stretch of the session as the room sees it.

    For a stretch without a movement of its own (a changeover, a rest) `set_up` is the one that
    comes next, and `set_up_changes` says whether the band has to move for it. `next_first` says
    that the movement to come is then the main thing to show. `round`, `station`, `side`,
    `movement` and `pace` are None where they have no meaning. Words are "" where there are none.
    """

    kind: EventKind
    start_ms: int
    end_ms: int
    title: str
    movement: MovementId | None = None
    round: int | None = None
    rounds: int | None = None
    station: int | None = None
    stations: int | None = None
    side: Side | None = None
    side_words: str = ""
    set_up: SetUp | None = None
    set_up_words: str = ""
    set_up_how: str = ""
    set_up_changes: bool = False
    next_first: bool = False
    pace: HallPace | None = None
    gentler: str = ""
    stronger: str = ""
    points: tuple[str, ...] = ()
    breath: str = ""
    safety: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class HallCue:
    """Words to show as a caption from an instant on."""

    at_ms: int
    kind: CueKind
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HallFigure:
    """A movement's pictures from the start of a repetition to its far end, drawn once, used often.

    A picture is a flat row p, f, p, f … from back to front: `paths[p]` filled with `fills[f]`, in
    units of `scale_ratio`. `left` is empty where the sides do not take turns. The screen plays the
    pictures there and back at the movement's pace.
    """

    description: str
    view_box: str
    floor: str
    scale_ratio: float
    fills: tuple[str, ...]
    paths: tuple[str, ...]
    right: tuple[tuple[int, ...], ...]
    left: tuple[tuple[int, ...], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class HallDocument:
    """Everything the hall screen needs for one session, loaded at once."""

    title: HallTitle
    slot_ms: int
    events: tuple[HallEvent, ...]
    cues: tuple[HallCue, ...]
    figures: Mapping[MovementId, HallFigure]


_TITLES = {
    EventKind.WELCOME: "Welcome",
    EventKind.WARM_UP: "Warm-up",
    EventKind.GET_READY: "Get ready",
    EventKind.WORK: "Work",
    EventKind.CHANGEOVER: "Change over",
    EventKind.REST: "Rest",
    EventKind.WATER: "Water",
    EventKind.COOL_DOWN: "Cool-down",
    EventKind.CLOSE: "Well done",
}

_TOLD_TITLES = frozenset(
    {layout.GET_READY, layout.SWAP, layout.BANDS_DOWN, layout.TESTS, layout.RISE_CHECK}
)
"""Titles of the timeline that say more than the kind does; any other is not shown."""

_NEXT_FIRST = frozenset({EventKind.GET_READY, EventKind.CHANGEOVER, EventKind.REST})

_SIDES = {
    Side.LEFT: "Your left",
    Side.RIGHT: "Your right",
    Side.BOTH: "Both sides together",
    Side.ALTERNATE: "One side, then the other",
}

_SET_UPS = {
    SetUp.NONE: "No band",
    SetUp.UNDER_FEET: "Band under your feet",
    SetUp.IN_HANDS: "Band in your hands",
    SetUp.ACROSS_THIGHS: "Band across your thighs",
    SetUp.ROUND_THIGHS: "Loop round your thighs",
    SetUp.UNDER_THIGHS: "Band under your thighs",
    SetUp.BEHIND_BACK: "Band behind your back",
    SetUp.CHAIR: "Band on the chair",
}


def hall_document(
    *,
    timeline: Timeline,
    catalogue: Catalogue,
    figures: Mapping[MovementId, HallFigure],
    title: HallTitle = HallTitle.SESSION,
) -> HallDocument:
    """Build the hall screen's document from what the clock runs.

    Figures of movements that the session lacks are left out. Raises `UnknownMovement` where the
    catalogue lacks a movement of the timeline.
    """
    events: list[HallEvent] = []
    worn = SetUp.NONE
    for index, event in enumerate(timeline.events):
        ahead = event if event.movement else _next_with_movement(timeline.events[index:])
        movement = _movement(ahead, catalogue)
        set_up = _set_up(event, movement)
        plain = _plain(event=event, ahead=movement, set_up=set_up, worn=worn)
        events.append(_with_movement(plain, event=event, movement=movement, timeline=timeline))
        worn = set_up or worn
    used = {event.movement for event in timeline.events if event.movement}
    return HallDocument(
        title=title,
        slot_ms=timeline.slot_ms,
        events=tuple(events),
        cues=tuple(
            HallCue(at_ms=cue.at_ms, kind=cue.kind, words=cue.words) for cue in timeline.cues
        ),
        figures={identifier: figures[identifier] for identifier in sorted(used & figures.keys())},
    )


def figure_of(*, frames: Mapping[str, Any], description: str) -> HallFigure:
    """Take from drawn frames what the screen plays, and nothing else that might be in them."""
    sides = frames["sides"]
    return HallFigure(
        description=description,
        view_box=frames["view_box"],
        floor=frames["floor"],
        scale_ratio=frames["scale"],
        fills=tuple(frames["fills"]),
        paths=tuple(frames["paths"]),
        right=tuple(tuple(picture) for picture in sides["right"]),
        left=tuple(tuple(picture) for picture in sides.get("left", ())),
    )


def _circuit(timeline: Timeline) -> tuple[MovementId, ...]:
    """Return the main circuit's movements in the order in which they are first done."""
    seen: dict[MovementId, None] = {}
    for event in timeline.events:
        if event.kind is EventKind.WORK and event.movement:
            seen.setdefault(event.movement)
    return tuple(seen)


def _next_with_movement(events: tuple[Event, ...]) -> Event | None:
    return next((event for event in events if event.movement), None)


def _movement(event: Event | None, catalogue: Catalogue) -> Movement | None:
    if event is None or event.movement is None:
        return None
    if event.movement not in catalogue:
        raise UnknownMovement(event.movement)
    return catalogue[event.movement]


def _set_up(event: Event, ahead: Movement | None) -> SetUp | None:
    if event.set_up is None and ahead and (event.movement or event.kind in _NEXT_FIRST):
        return ahead.standard.set_up
    return event.set_up


def _plain(*, event: Event, ahead: Movement | None, set_up: SetUp | None, worn: SetUp) -> HallEvent:
    """Return what every stretch shows, with a movement or without."""
    return HallEvent(
        kind=event.kind,
        start_ms=event.start_ms,
        end_ms=event.end_ms,
        title=event.title if event.title in _TOLD_TITLES else _TITLES[event.kind],
        set_up=set_up,
        set_up_words=_SET_UPS[set_up] if set_up else "",
        set_up_how=ahead.teaching.set_up if ahead and set_up is not SetUp.NONE else "",
        set_up_changes=set_up is not None and set_up is not worn,
        next_first=(
            ahead is not None
            and event.movement is None
            and event.kind in _NEXT_FIRST
            and event.title != layout.TESTS
        ),
    )


def _with_movement(
    plain: HallEvent, *, event: Event, movement: Movement | None, timeline: Timeline
) -> HallEvent:
    """Add what the stretch's own movement brings; a stretch without one stays plain."""
    if movement is None or event.movement is None:
        return plain
    circuit = _circuit(timeline)
    stationed = movement.id in circuit and event.kind is EventKind.WORK
    rounds = max((each.round or 0 for each in timeline.events), default=0)
    return replace(
        plain,
        title=movement.name,
        movement=movement.id,
        round=event.round,
        rounds=rounds if event.round else None,
        station=circuit.index(movement.id) + 1 if stationed else None,
        stations=len(circuit) if stationed else None,
        side=event.side,
        side_words=_SIDES[event.side] if event.side else "",
        pace=_pace(movement.standard.tempo),
        gentler=_how(movement=movement, kind=OptionKind.GENTLER),
        stronger=_how(movement=movement, kind=OptionKind.STRONGER),
        points=movement.teaching.points[:MOST_POINTS_COUNT],
        breath=movement.teaching.breath,
        safety=movement.teaching.safety,
    )


def _pace(tempo: Tempo) -> HallPace:
    return HallPace(
        out_ms=round(tempo.out_s * SECOND_MS),
        hold_ms=round(tempo.hold_s * SECOND_MS),
        back_ms=round(tempo.back_s * SECOND_MS),
        pause_ms=round(tempo.pause_s * SECOND_MS),
    )


def _how(*, movement: Movement, kind: OptionKind) -> str:
    return next((option.how for option in movement.options if option.kind is kind), "")
