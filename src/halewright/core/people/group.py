"""A group: its people, place, calendar, kit, wishes and local rules."""

from dataclasses import dataclass
from datetime import date, time

from halewright.core.people.kit import Band
from halewright.core.people.person import Person, PersonId, Weekday


@dataclass(frozen=True, slots=True, kw_only=True)
class Meeting:
    """A weekly day and the time at which the slot begins."""

    day: Weekday
    starts_at: time


@dataclass(frozen=True, slots=True, kw_only=True)
class Venue:
    """Where the group meets and what an ambulance needs to know; "" means not recorded."""

    name: str
    address: str = ""
    entrance: str = ""
    defibrillator: str = ""
    phone_signal: str = ""
    chairs_with_arms: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LocalRule:
    """A leader's own setting in place of a rule or threshold that ships.

    `rule` names a screening rule or a setting. `at_most` (in the unit of that rule: degrees,
    newtons, a score, a ratio) replaces the shipped value; `off` switches the rule off.
    A rule without `who` is refused by the readers.
    """

    rule: str
    who: str
    why: str
    source: str
    on: date | None = None
    at_most: float | None = None  # unit: that of the rule named
    off: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Schedule:
    """When a block runs. `weeks` counts weeks from `starts_on`; `dates_off` have no session.

    `test_weeks` count from 1. `rounds` and `work_s` are None for "choose for me".
    """

    starts_on: date
    weeks: int
    meetings: tuple[Meeting, ...]
    time_zone: str
    slot_minutes: int
    dates_off: tuple[date, ...] = ()
    test_weeks: tuple[int, ...] = ()
    rounds: int | None = None
    work_s: float | None = None
    keep_weeks: int = 4
    """How many weeks a phase keeps its shape, 2 to 4."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RawScreen:
    """One health screen as it was answered: question identifier to answer text.

    Read and judged by `core.screening`; kept here so that a group holds all it was told.
    """

    person: PersonId
    answered_on: date | None
    completed_by: str
    answers: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Decision:
    """A named person's answer to an ask-first flag."""

    person: PersonId
    flag: str
    go_ahead: bool
    by: str
    on: date
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Everything that a group folder holds."""

    name: str
    venue: Venue
    schedule: Schedule
    goals: tuple[str, ...]
    """Values of `core.catalogue.words.Goal`, the most wanted first."""
    people: tuple[Person, ...]
    screens: tuple[RawScreen, ...] = ()
    decisions: tuple[Decision, ...] = ()
    bands: tuple[Band, ...] = ()
    local_rules: tuple[LocalRule, ...] = ()
    seated_only: bool = False
    """True for a group in which nobody stands, whoever comes."""
