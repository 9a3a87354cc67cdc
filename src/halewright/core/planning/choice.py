"""Which way of a movement each person uses, in each session."""

from dataclasses import dataclass

from halewright.core.catalogue.movement import Catalogue, Movement, MovementId, Option
from halewright.core.catalogue.words import OptionKind, Part, Position, SetUp
from halewright.core.people.person import PersonId
from halewright.core.planning.calendar import Meet
from halewright.core.screening.verdict import Fit, Matrix
from halewright.core.session.outline import Purpose

_PREFERRED = (OptionKind.STANDARD, OptionKind.GENTLER, OptionKind.WITHOUT_BAND)
_EASED = (OptionKind.GENTLER, OptionKind.WITHOUT_BAND, OptionKind.STANDARD)
_UNLOADED = (OptionKind.WITHOUT_BAND,)

_STRICTNESS = list(Fit)


@dataclass(frozen=True, slots=True, kw_only=True)
class Done:
    """What somebody does at a station; `kind` None is sitting it out.

    Another movement than the station's, or sitting out, is a last resort.
    """

    movement: MovementId
    kind: OptionKind | None

    def is_as_shown(self, station: Movement) -> bool:
        """Whether this is the way that the group is shown first."""
        return self.movement == station.id and self.kind is OptionKind.STANDARD

    def is_last_resort(self, station: Movement) -> bool:
        """Whether this is another movement, or sitting out."""
        return self.movement != station.id or self.kind is None


def way(person: PersonId, movement: Movement, matrix: Matrix) -> OptionKind | None:
    """Return the way a person uses: the group's where it suits, else the best that does.

    A suitable way comes before one that needs care; among equals the group's own way first.
    Only ways with the group's set-up, or without a band, count. None where there is none.
    """
    ranked = [
        (_STRICTNESS.index(matrix[person, movement.id, kind].fit), place, kind)
        for place, kind in enumerate(usable(movement, _PREFERRED))
    ]
    fits = [row for row in ranked if _STRICTNESS[row[0]] is not Fit.NOT_SUITABLE]
    return min(fits)[2] if fits else None


def eased(person: PersonId, movement: Movement, matrix: Matrix) -> OptionKind | None:
    """Return the way for somebody who comes back after an absence: a step down where there is."""
    return _first(person, movement, matrix, _EASED)


def unloaded(person: PersonId, movement: Movement, matrix: Matrix) -> OptionKind | None:
    """Return the way without load, for a first session with bands; None where it has none.

    A movement that uses no band is done as it is.
    """
    if movement.standard.set_up is SetUp.NONE:
        return way(person, movement, matrix)
    return _first(person, movement, matrix, _UNLOADED)


def in_session(
    person: PersonId, movement: Movement, *, meet: Meet, matrix: Matrix
) -> OptionKind | None:
    """Return the way in one session: without load while new, a step down on coming back."""
    if meet.purpose is Purpose.HANDLING or person in meet.joining:
        return unloaded(person, movement, matrix)
    if person in meet.returning:
        return eased(person, movement, matrix)
    return way(person, movement, matrix)


def done(
    person: PersonId, station: Movement, *, meet: Meet, catalogue: Catalogue, matrix: Matrix
) -> Done:
    """Return what somebody does at a station in one session, a last resort where they must.

    As a last resort they do the first other movement of the same pattern that suits them with the
    group's set-up or no band and does not have them stand alone; where there is none they sit out.
    """
    kind = in_session(person, station, meet=meet, matrix=matrix)
    if kind is not None:
        return Done(movement=station.id, kind=kind)
    for other in catalogue.values():
        if other.part is not Part.MAIN or other.pattern is not station.pattern or other == station:
            continue
        kind = in_session(person, other, meet=meet, matrix=matrix)
        if kind is not None and _goes_beside(other.option(kind), station.standard):
            return Done(movement=other.id, kind=kind)
    return Done(movement=station.id, kind=None)


def usable(movement: Movement, kinds: tuple[OptionKind, ...]) -> tuple[OptionKind, ...]:
    """Return the ways among `kinds` that the movement has and that need no other set-up."""
    shared = {SetUp.NONE, movement.standard.set_up}
    given = {option.kind: option for option in movement.options}
    return tuple(kind for kind in kinds if kind in given and given[kind].set_up in shared)


def _goes_beside(option: Option, shown: Option) -> bool:
    same_band = option.set_up in {SetUp.NONE, shown.set_up}
    return same_band and option.position in {Position.SEATED, shown.position}


def _first(
    person: PersonId, movement: Movement, matrix: Matrix, kinds: tuple[OptionKind, ...]
) -> OptionKind | None:
    for kind in usable(movement, kinds):
        if matrix[person, movement.id, kind].fit is not Fit.NOT_SUITABLE:
            return kind
    return None
