"""Bands as a leader knows them: an own label, a material, a size, measured points."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import NewType

BandLabel = NewType("BandLabel", str)


class Material(StrEnum):
    """What the band is made of; not known is treated as latex."""

    LATEX = "latex"
    LATEX_FREE = "latex_free"
    NOT_KNOWN = "not_known"


class Shape(StrEnum):
    """An open strip, or a loop whose length is the whole way round."""

    STRIP = "strip"
    LOOP = "loop"


class Phase(StrEnum):
    """Whether a reading was taken while drawing the band out or while letting it back."""

    LOADING = "loading"
    UNLOADING = "unloading"


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredPoint:
    """One reading of a scale at one length of the band.

    A strip is pulled by its two ends and the scale shows one strand. A loop is pulled whole between
    two hooks and the scale shows both strands; its lengths may be flat or the whole way round, so
    long as both are told the same way.
    """

    slack_length_m: float
    stretched_length_m: float
    reading_n: float
    phase: Phase = Phase.LOADING


class CheckResult(StrEnum):
    """What a look at a band came to."""

    SOUND = "sound"
    WATCH = "watch"
    """Usable, with something to look at again before each use."""
    RETIRED = "retired"


@dataclass(frozen=True, slots=True, kw_only=True)
class BandCheck:
    """One inspection: when, by whom, and what was found ("" for no fault)."""

    on: date
    by: str
    result: CheckResult
    fault: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """A kind of band in the bag; `count` of them are alike.

    `rank` is the leader's own order from the lightest (1) up, used until it has been measured.
    `points` are the measured readings, empty for an unmeasured band, which carries no newtons.
    `batch` is what the maker printed on the packet, for a recall. `checks` are oldest first.
    """

    label: BandLabel
    material: Material
    shape: Shape = Shape.STRIP
    length_m: float | None = None
    width_m: float | None = None
    count: int = 1
    rank: int | None = None
    bought_on: date | None = None
    checked_on: date | None = None
    retired_on: date | None = None
    points: tuple[MeasuredPoint, ...] = ()
    first_used_on: date | None = None
    batch: str = ""
    checks: tuple[BandCheck, ...] = ()
