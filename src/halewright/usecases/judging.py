"""A group with everything that planning and checking must know of it, judged once."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cache

from halewright.core.catalogue.movement import Catalogue, MovementId
from halewright.core.catalogue.words import OptionKind
from halewright.core.mechanics import demand_rules
from halewright.core.mechanics.demands import Demands
from halewright.core.people.group import Group
from halewright.core.people.person import PersonId
from halewright.core.screening import judge, locally
from halewright.core.screening.verdict import Matrix, Outcome
from halewright.core.session.durations import Durations
from halewright.files import movements
from halewright.usecases import cautions

DemandTable = Mapping[tuple[MovementId, OptionKind], Demands]


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """A group, the catalogue in use, and what each may do of it by all that is recorded."""

    group: Group
    catalogue: Catalogue
    demands: DemandTable
    outcomes: Mapping[PersonId, Outcome]
    matrix: Matrix
    durations: Durations = field(default_factory=Durations)


def judged(group: Group) -> Judged:
    """Judge every option of every movement for everybody in the group.

    A person for whom latex is barred is judged as in the sessions they come to, which are free
    of latex, unless a signed local rule has switched that off.
    """
    outcomes = cautions.outcomes(group, on=_told_until(group))
    policy = locally.in_force(group.local_rules).get(locally.LATEX_POLICY)
    return Judged(
        group=group,
        catalogue=movements.shipped(),
        demands=shipped_demands(),
        outcomes=outcomes,
        matrix=judge.matrix(
            people=group.people,
            outcomes=outcomes,
            catalogue=movements.shipped(),
            demands=shipped_demands(),
            latex_free=policy is None or not policy.off,
        ),
    )


def _told_until(group: Group) -> date:
    """Return the day by which all that is recorded counts.

    A decision or a screen of the second month must count when the rest of a block is planned
    anew, and no clock may decide what a plan looks like.
    """
    told = [screen.answered_on for screen in group.screens if screen.answered_on]
    told += [decision.on for decision in group.decisions]
    return max([group.schedule.starts_on, *told])


@cache
def shipped_demands() -> DemandTable:
    """Return the demands of every option of the catalogue that ships."""
    return {
        (movement.id, option.kind): demand_rules.of(option=option, power=movement.power)
        for movement in movements.shipped().values()
        for option in movement.options
    }
