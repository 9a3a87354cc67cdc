"""Screening rules as values: what an answer gives, why, who says so and how sure that is."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from halewright.core import units
from halewright.core.people.limits import Measure, Strength
from halewright.core.screening.questions import QuestionId


class Trigger(StrEnum):
    """From which reply a rule applies; `unanswered` applies at yes too."""

    UNANSWERED = "unanswered"
    YES = "yes"


class SideOf(StrEnum):
    """Whether a limit holds for the side that was answered, or for both."""

    AS_ANSWERED = "as_answered"
    BOTH = "both"


class Status(StrEnum):
    """How far a source has been checked."""

    VERIFIED = "verified"
    SECONDARY = "verified (secondary page)"
    MIXED = "mixed"
    FROM_MEMORY = "from memory"
    COMMON_PRACTICE = "common practice"


class FileUnit(StrEnum):
    """The units in which files and local rules write a limit."""

    DEGREES = "deg"
    NEWTONS = "n"
    SCORE = "score"
    COUNT = "count"


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """Who says so, and whether it was checked."""

    words: str
    status: Status

    def cite(self) -> str:
        """Return the source as it is shown: its words, then its status unless that says it all."""
        if self.words == self.status.value:
            return self.words
        return f"{self.words} [{self.status.value}]"


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherValue:
    """What another authority allows for the same limit, in the measure's own unit."""

    at_most: float  # unit: the measure's own
    source: Source


@dataclass(frozen=True, slots=True, kw_only=True)
class GivesLimit:
    """A rule that limits one measure; `at_most` is in the measure's own unit (radians).

    `also` are the values of authorities that disagree; the strictest of all is used.
    """

    measure: Measure
    at_most: float  # unit: the measure's own
    strength: Strength
    side: SideOf = SideOf.BOTH
    also: tuple[OtherValue, ...] = ()

    @property
    def strictest(self) -> float:
        """Return the lowest value that any of the authorities names, in the measure's own unit."""
        return min((self.at_most, *(other.at_most for other in self.also)))


@dataclass(frozen=True, slots=True, kw_only=True)
class GivesFlag:
    """A rule that asks for a doctor's word first; `ask` is what the leader is asked to do."""

    ask: str


@dataclass(frozen=True, slots=True, kw_only=True)
class GivesWatch:
    """A rule that only tells the leader something to keep in mind."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """One rule. It applies when any of its questions is answered at or beyond `at`.

    `unless_detail` are words which, standing alone between commas in the answer, say that the
    rule does not concern this person ("anterior" for a rule about the posterior approach).
    """

    id: str
    questions: tuple[QuestionId, ...]
    at: Trigger
    gives: GivesLimit | GivesFlag | GivesWatch
    reason: str
    source: Source
    reviewed_on: date
    unless_detail: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Policy:
    """A matter for local rule alone: the tool shows what authorities say and fills in nothing.

    `views` are the values found, each with its source.
    """

    id: str
    words: str
    views: tuple[tuple[str, Source], ...]
    reviewed_on: date


def file_unit(measure: Measure) -> FileUnit:
    """Return the unit in which files write a measure: degrees for radians, else its own."""
    last_word = measure.value.rsplit("_", 1)[-1]
    return FileUnit.DEGREES if last_word == "rad" else FileUnit(last_word)


def file_name(measure: Measure) -> str:
    """Return a measure's name as files write it, without its unit: `hip_flexion`."""
    return measure.value.rsplit("_", 1)[0]


def from_file(*, measure: Measure, value: float) -> float:  # unit: the measure's
    """Convert a limit from the unit of files to the measure's own."""
    return units.radians(value) if file_unit(measure) is FileUnit.DEGREES else value


def to_file(*, measure: Measure, value: float) -> float:  # unit: the measure's
    """Convert a limit from the measure's own unit to that of files."""
    return units.degrees(value) if file_unit(measure) is FileUnit.DEGREES else value


def amount_words(*, measure: Measure, value: float) -> str:  # unit: the measure's
    """Say an amount with its unit, to the nearest whole unit where it is an angle or a pull."""
    in_file = to_file(measure=measure, value=value)
    match file_unit(measure):
        case FileUnit.DEGREES:
            return f"{in_file:.0f}°"
        case FileUnit.NEWTONS:
            return f"{in_file:.0f} N"
        case FileUnit.SCORE | FileUnit.COUNT:
            return f"{in_file:g}"
