"""The answer to "may this person do this, this way?", with every reason."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from halewright.core.catalogue.movement import MovementId
from halewright.core.catalogue.words import OptionKind
from halewright.core.people.limits import Limit
from halewright.core.people.person import PersonId


class Fit(StrEnum):
    """Three answers, from best to worst; the order of definition is the order of strictness."""

    SUITABLE = "suitable"
    WITH_CARE = "with_care"
    NOT_SUITABLE = "not_suitable"


@dataclass(frozen=True, slots=True, kw_only=True)
class Reason:
    """Why, in words a leader can say aloud to the person, and who says so.

    `incurable` marks the four kinds that no leader may accept away (DESIGN §3): an undecided
    ask-first flag, latex, a retired band, a limit told by a clinician.
    """

    words: str
    source: str
    incurable: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """The fit of one option for one person, with its reasons (none when suitable)."""

    fit: Fit
    reasons: tuple[Reason, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class AskFirst:
    """Something to ask this person's doctor before they take part with a band.

    `decided` is None until a decision with name and date is recorded; then it says whether
    to go ahead.
    """

    flag: str
    words: str
    reason: str
    source: str
    decided: bool | None = None
    decided_by: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What one person's screen comes to.

    `unanswered` are the questions (in words) that nobody has answered. `undecided` is True while
    an ask-first flag has no decision, or one that says wait: the person then does seated mobility
    without a band. `watches` limit nothing: the leader keeps them in mind.
    """

    person: PersonId
    limits: tuple[Limit, ...]
    flags: tuple[AskFirst, ...]
    unanswered: tuple[str, ...]
    watches: tuple[Reason, ...] = ()

    @property
    def undecided(self) -> bool:
        """Whether any flag still lacks a go-ahead."""
        return any(flag.decided is not True for flag in self.flags)


Matrix = Mapping[tuple[PersonId, MovementId, OptionKind], Verdict]
"""The verdict on every option of every movement for every person."""
