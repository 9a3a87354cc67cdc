"""A session in time: events that tile the slot, and cues as instants within them.

Times are whole milliseconds from the start of the slot, half-open: an event covers
`start_ms <= t < end_ms`.
"""

from dataclasses import dataclass
from enum import StrEnum

from halewright.core.catalogue.movement import MovementId
from halewright.core.catalogue.words import SetUp, Side


class EventKind(StrEnum):
    """What a stretch of the session is for."""

    WELCOME = "welcome"
    WARM_UP = "warm_up"
    GET_READY = "get_ready"
    WORK = "work"
    CHANGEOVER = "changeover"
    REST = "rest"
    WATER = "water"
    COOL_DOWN = "cool_down"
    CLOSE = "close"


class CueKind(StrEnum):
    """What is said or shown at an instant."""

    WELCOME = "welcome"
    STOP_SIGNS = "stop_signs"
    GET_READY = "get_ready"
    SET_UP = "set_up"
    SAFETY = "safety"
    GO = "go"
    HALFWAY = "halfway"
    LAST_TEN = "last_ten"
    COUNT = "count"
    SWAP_SIDES = "swap_sides"
    REST = "rest"
    WATER = "water"
    BREATH = "breath"
    RISE_CHECK = "rise_check"
    CLOSE = "close"


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """A stretch of time with one purpose; `round` counts from 1 in the main part."""

    kind: EventKind
    start_ms: int
    end_ms: int
    title: str
    movement: MovementId | None = None
    round: int | None = None
    side: Side | None = None
    set_up: SetUp | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cue:
    """Words at an instant; they hold nothing about any person."""

    at_ms: int
    kind: CueKind
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Timeline:
    """The events tile `0 <= t < slot_ms` without gap or overlap; cues are in order of time."""

    slot_ms: int
    events: tuple[Event, ...]
    cues: tuple[Cue, ...]
