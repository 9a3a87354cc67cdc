"""What one session holds, before it is laid out in time."""

from dataclasses import dataclass
from datetime import date, time
from enum import StrEnum

from halewright.core.catalogue.movement import MovementId
from halewright.core.catalogue.words import OptionKind
from halewright.core.people.person import PersonId


class Purpose(StrEnum):
    """What kind of session this is."""

    HANDLING = "handling"
    """The first with bands: handling and anchor drill, without load."""
    STRENGTH = "strength"
    TEST = "test"
    """A test week's session: a short round, and time for the tests."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Use:
    """What one person does at one station.

    `movement` differs from the station's only as a last resort that was proposed and counted;
    `option` None means sitting this station out (a last resort too). `with_care` are the reasons
    to keep in view. `why` says why this is not the group's own way ("" when it is).
    """

    person: PersonId
    movement: MovementId
    option: OptionKind | None
    with_care: tuple[str, ...] = ()
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """One place in the session: a movement, and what each person expected does there."""

    movement: MovementId
    uses: tuple[Use, ...] = ()


class NoticeKind(StrEnum):
    """What a notice is about."""

    ASK_FIRST = "ask_first"
    JOINING = "joining"
    RETURNING = "returning"
    UNANSWERED = "unanswered"
    HANDLING = "handling"
    KIT = "kit"
    OTHER = "other"


@dataclass(frozen=True, slots=True, kw_only=True)
class Notice:
    """Something the leader must see on tonight's run sheet about one person, or about all."""

    words: str
    person: PersonId | None = None
    kind: NoticeKind = NoticeKind.OTHER


@dataclass(frozen=True, slots=True, kw_only=True)
class SessionOutline:
    """One session of a block. `week` and `number` count from 1; `number` within the week.

    `rounds` is how often the main circuit is gone round, `work_ms` each work interval,
    `rest_ms` the least time between two of them.
    """

    week: int
    number: int
    on: date
    starts_at: time
    slot_ms: int
    purpose: Purpose
    rounds: int
    work_ms: int
    rest_ms: int
    warm_up: tuple[Station, ...]
    main: tuple[Station, ...]
    cool_down: tuple[Station, ...]
    expected: tuple[PersonId, ...]
    easier_week: bool = False
    latex_free: bool = False
    notices: tuple[Notice, ...] = ()
