"""What the hall screen shows: one session, and nothing about anyone.

The room sees this screen, so the types here have no field that could hold a person, a group, a
venue or a note: every word comes from the catalogue, from a closed list, or from the timeline's
cues. The builder is never given the outline, so it could not show a person if it tried.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from halewright.core.catalogue.movement import Catalogue, Movement, MovementId, Tempo
from halewright.core.catalogue.words import OptionKind, SetUp, Side
from halewright.core.errors import UnknownMovement
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
    comes next, and `set_up_changes` says whether the band has to move for it. `round`, `station`,
    `side`, `movement` and `pace` are None where they have no meaning. Words are "" where the
    catalogue has none.
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
    """A movement's picture: whole SVG images from its start to its far end, or one still.

    With several frames, frame 0 is the start of the repetition and the last one its far end; the
    screen shows them there and back at the movement's pace.
    """

    frames: tuple[str, ...]
    description: str


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
    circuit = _circuit(timeline)
    rounds = max((event.round or 0 for event in timeline.events), default=0) or None
    events: list[HallEvent] = []
    worn = SetUp.NONE
    for index, event in enumerate(timeline.events):
        ahead = event if event.movement else _next_with_movement(timeline.events[index:])
        movement = _movement(ahead, catalogue)
        set_up = _set_up(ahead, movement)
        events.append(
            _hall_event(
                event=event,
                movement=movement,
                set_up=set_up,
                changes=set_up is not None and set_up is not worn,
                rounds=rounds,
                circuit=circuit,
            )
        )
        if event.movement and set_up is not None:
            worn = set_up
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


def _set_up(event: Event | None, movement: Movement | None) -> SetUp | None:
    if event is None or movement is None:
        return None
    return event.set_up or movement.standard.set_up


def _hall_event(
    *,
    event: Event,
    movement: Movement | None,
    set_up: SetUp | None,
    changes: bool,
    rounds: int | None,
    circuit: tuple[MovementId, ...],
) -> HallEvent:
    bare = HallEvent(
        kind=event.kind,
        start_ms=event.start_ms,
        end_ms=event.end_ms,
        title=_TITLES[event.kind],
        set_up=set_up,
        set_up_words=_SET_UPS[set_up] if set_up else "",
        set_up_how=movement.teaching.set_up if movement and set_up is not SetUp.NONE else "",
        set_up_changes=changes,
    )
    if movement is None or event.movement is None:
        return bare
    return HallEvent(
        kind=bare.kind,
        start_ms=bare.start_ms,
        end_ms=bare.end_ms,
        title=movement.name,
        movement=movement.id,
        round=event.round,
        rounds=rounds if event.round else None,
        station=circuit.index(movement.id) + 1 if movement.id in circuit else None,
        stations=len(circuit) if movement.id in circuit else None,
        side=event.side,
        side_words=_SIDES[event.side] if event.side else "",
        set_up=bare.set_up,
        set_up_words=bare.set_up_words,
        set_up_how=bare.set_up_how,
        set_up_changes=bare.set_up_changes,
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
