"""Which way of a movement each person uses."""

from halewright.core.catalogue.movement import Movement
from halewright.core.catalogue.words import OptionKind, SetUp
from halewright.core.people.person import PersonId
from halewright.core.screening.verdict import Fit, Matrix, Verdict

_PREFERRED = (OptionKind.STANDARD, OptionKind.GENTLER, OptionKind.WITHOUT_BAND)
_EASED = (OptionKind.GENTLER, OptionKind.WITHOUT_BAND, OptionKind.STANDARD)
_UNLOADED = (OptionKind.WITHOUT_BAND,)


def way(person: PersonId, movement: Movement, matrix: Matrix) -> OptionKind | None:
    """Return the way a person uses: the group's where it suits, else the best that does.

    A suitable way comes before one that needs care; among equals the group's own way first.
    Only ways with the group's set-up, or without a band, count. None where there is none.
    """
    return _best(person, movement, matrix, _PREFERRED)


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


def verdict(person: PersonId, movement: Movement, kind: OptionKind, matrix: Matrix) -> Verdict:
    """Return the verdict on a way of moving; raises KeyError where nobody judged it."""
    return matrix[person, movement.id, kind]


def usable(movement: Movement, kinds: tuple[OptionKind, ...]) -> tuple[OptionKind, ...]:
    """Return the ways among `kinds` that the movement has and that need no other set-up."""
    shared = {SetUp.NONE, movement.standard.set_up}
    given = {option.kind: option for option in movement.options}
    return tuple(kind for kind in kinds if kind in given and given[kind].set_up in shared)


def _best(
    person: PersonId, movement: Movement, matrix: Matrix, kinds: tuple[OptionKind, ...]
) -> OptionKind | None:
    ranked = [
        (list(Fit).index(matrix[person, movement.id, kind].fit), place, kind)
        for place, kind in enumerate(usable(movement, kinds))
    ]
    fits = [row for row in ranked if list(Fit)[row[0]] is not Fit.NOT_SUITABLE]
    return min(fits)[2] if fits else None


def _first(
    person: PersonId, movement: Movement, matrix: Matrix, kinds: tuple[OptionKind, ...]
) -> OptionKind | None:
    for kind in usable(movement, kinds):
        if matrix[person, movement.id, kind].fit is not Fit.NOT_SUITABLE:
            return kind
    return None
