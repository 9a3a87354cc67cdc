"""What each person of a group must avoid, what to ask first, and what to keep in mind."""

from datetime import date
from functools import cache

from halewright.core.people.group import Group, RawScreen
from halewright.core.people.person import PersonId
from halewright.core.screening import assess
from halewright.core.screening.rules import Rule
from halewright.core.screening.verdict import Outcome
from halewright.files import screening


def outcomes(group: Group, *, on: date) -> dict[PersonId, Outcome]:
    """Return what each person's newest health screen comes to on a day, by identifier."""
    newest = _newest_screens(group)
    return {
        person.id: assess.assess(
            person=person,
            screen=newest.get(person.id),
            decisions=tuple(each for each in group.decisions if each.person == person.id),
            rules=_rules(),
            local_rules=group.local_rules,
            on=on,
        )
        for person in group.people
    }


@cache
def _rules() -> tuple[Rule, ...]:
    return screening.shipped().rules


def _newest_screens(group: Group) -> dict[PersonId, RawScreen]:
    dated = sorted(group.screens, key=lambda screen: screen.answered_on or date.min)
    return {screen.person: screen for screen in dated}
