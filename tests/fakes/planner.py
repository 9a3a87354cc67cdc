"""A planner that answers at once: a plain plan with one breach to accept and one to cure."""

from tests import stories

from halewright.core.people.group import Group
from halewright.core.people.person import PersonId
from halewright.core.planning.plan import Plan, Violation
from halewright.usecases.blocks import Progress


def draft(group: Group, *, seed: int, progress: Progress) -> Plan:
    """Return a plain plan, telling progress once."""
    progress("Laying out the weeks", 0.5)
    return stories.plain_plan(group, seed=seed)


def check(plan: Plan, group: Group) -> tuple[Violation, ...]:
    """Return one breach that may be accepted and one that may not."""
    assert plan.group == group.name
    return (
        Violation(rule="gap_between_sessions", words="Two days running.", week=1, session=2),
        Violation(
            rule="ask_first",
            words="Ada has an open question.",
            week=1,
            session=1,
            station=1,
            person=PersonId("ada"),
            incurable=True,
        ),
    )
