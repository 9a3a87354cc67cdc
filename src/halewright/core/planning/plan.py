"""A plan for a block of weeks, as it is saved and checked."""

from dataclasses import dataclass
from datetime import date

from halewright.core.people.person import PersonId
from halewright.core.session.outline import SessionOutline


@dataclass(frozen=True, slots=True, kw_only=True)
class Violation:
    """One breach of one rule, named so that a leader can find and mend it.

    `week`, `session` and `station` count from 1; None where the breach is wider than that.
    `incurable` breaches can only be mended by a recorded change to the person or the kit.
    """

    rule: str
    words: str
    week: int | None = None
    session: int | None = None
    station: int | None = None
    person: PersonId | None = None
    incurable: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Acceptance:
    """A leader's last word on a breach: which, who, when, why.

    It matches a violation whose `rule`, `week`, `session`, `station` and `person` are the same.
    """

    rule: str
    who: str
    on: date
    why: str
    week: int | None = None
    session: int | None = None
    station: int | None = None
    person: PersonId | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cost:
    """One part of the objective: what it counts, in a sentence, and its weighted points."""

    name: str
    points: int
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """A planned block. `objective` is the sum of `costs`; `bound` is proven, or None.

    Sessions are in order of date.
    """

    group: str
    seed: int
    sessions: tuple[SessionOutline, ...]
    objective: int
    bound: int | None = None
    costs: tuple[Cost, ...] = ()
    accepted: tuple[Acceptance, ...] = ()

    @property
    def weeks(self) -> int:
        """The number of the last week that has a session."""
        return max((session.week for session in self.sessions), default=0)
