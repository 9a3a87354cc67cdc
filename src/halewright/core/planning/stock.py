"""Whether the bag holds enough bands of a kind for everybody expected."""

from datetime import date

from halewright.core.catalogue.movement import Movement
from halewright.core.catalogue.words import SetUp
from halewright.core.people.group import Group
from halewright.core.people.kit import Material, Shape
from halewright.core.planning.calendar import Meet
from halewright.core.screening import judge


def suffices(movement: Movement, *, meet: Meet, group: Group) -> bool:
    """Whether there are bands for a movement in a session; a bag with nothing recorded is not
    judged (the plan then carries a notice)."""
    if movement.standard.set_up is SetUp.NONE or not group.bands:
        return True
    shape = shape_of(movement)
    free = needs_latex_free(meet, group)
    have = available(group, shape=shape, on=meet.on, latex_free=free)
    return have >= len(meet.expected)


def shape_of(movement: Movement) -> Shape:
    """Return the kind of band a movement's own way takes: a closed path takes a loop."""
    closed = any(path.closed for path in movement.standard.paths)
    return Shape.LOOP if closed else Shape.STRIP


def needs_latex_free(meet: Meet, group: Group) -> bool:
    """Whether a session must be latex-free for somebody who is expected."""
    people = [person for person in group.people if person.id in meet.expected]
    return judge.session_latex_free(people=people, local_rules=group.local_rules)


def available(group: Group, *, shape: Shape, on: date, latex_free: bool) -> int:
    """Return how many bands of a shape are in the bag on a day, retired ones left out."""
    return sum(
        band.count
        for band in group.bands
        if band.shape is shape
        and (band.retired_on is None or band.retired_on > on)
        and (not latex_free or band.material is Material.LATEX_FREE)
    )
