"""A participant as the rest of the core may know one."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import NewType

from halewright.core.people.limits import Limit

PersonId = NewType("PersonId", str)


class Sex(StrEnum):
    """Sex as the published test norms use it."""

    FEMALE = "female"
    MALE = "male"
    NOT_STATED = "not_stated"


class LatexReaction(StrEnum):
    """What is known of a reaction to natural rubber latex."""

    NONE = "none"
    SKIN = "skin"
    IMMEDIATE = "immediate"
    NOT_KNOWN = "not_known"


class Standing(StrEnum):
    """The least support with which a person may stand in a session; not known counts as seated."""

    SEATED_ONLY = "seated_only"
    TWO_HANDS = "two_hands"
    ONE_HAND = "one_hand"
    FINGERTIPS = "fingertips"
    NO_SUPPORT = "no_support"
    NOT_KNOWN = "not_known"


class Weekday(StrEnum):
    """Days as group files write them."""

    MONDAY = "monday"
    TUESDAY = "tuesday"
    WEDNESDAY = "wednesday"
    THURSDAY = "thursday"
    FRIDAY = "friday"
    SATURDAY = "saturday"
    SUNDAY = "sunday"


@dataclass(frozen=True, slots=True, kw_only=True)
class Birth:
    """A date of birth, or the year alone."""

    year: int
    on: date | None = None

    def ages_on(self, day: date) -> tuple[int, int]:
        """Return the least and the greatest whole age the person can have on a day."""
        if self.on is None:
            return day.year - self.year - 1, day.year - self.year
        age = day.year - self.on.year - ((day.month, day.day) < (self.on.month, self.on.day))
        return age, age


@dataclass(frozen=True, slots=True, kw_only=True)
class EmergencyContact:
    """Whom to ring."""

    name: str
    relation: str
    phone: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """A participant: what planning, screening, sheets and the emergency card need.

    None means not known. `days` is empty when the person comes on every day of the group.
    `joined_on` is None for somebody who is there from the start.
    """

    id: PersonId
    preferred_name: str
    birth: Birth | None = None
    sex: Sex = Sex.NOT_STATED
    stature_m: float | None = None
    mass_kg: float | None = None
    latex: LatexReaction = LatexReaction.NOT_KNOWN
    food_reactions: tuple[str, ...] = ()
    standing: Standing = Standing.NOT_KNOWN
    hearing_needs: str = ""
    sight_needs: str = ""
    print_size_pt: float | None = None
    days: tuple[Weekday, ...] = ()
    joined_on: date | None = None
    away: tuple[tuple[date, date], ...] = ()
    """First and last day of each absence that is known beforehand."""
    limits: tuple[Limit, ...] = ()
    contacts: tuple[EmergencyContact, ...] = ()
    medicines_carried: str = ""
    notes: str = ""
