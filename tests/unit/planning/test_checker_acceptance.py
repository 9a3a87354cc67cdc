"""A leader's last word on a breach: what it covers, and what nobody can accept away."""

from dataclasses import replace
from datetime import date

import pytest
from tests.fakes import plan_world as worlds

from halewright.core.catalogue.words import OptionKind
from halewright.core.planning import checker, rules
from halewright.core.planning.plan import Acceptance, Violation


def acceptance_of(found: Violation, *, who: str = "Alma", why: str = "Agreed.") -> Acceptance:
    """Return a signed acceptance of one breach."""
    return Acceptance(
        rule=found.rule,
        who=who,
        on=date(2026, 11, 20),
        why=why,
        week=found.week,
        session=found.session,
        station=found.station,
        person=found.person,
    )


def one_breach(rule: str = "last_resort") -> Violation:
    """Return a breach at the very first place of a block."""
    return Violation(rule=rule, words="So it is.", week=1, session=1, station=1, person=worlds.ADA)


def test_an_accepted_breach_is_no_longer_open() -> None:
    """The acceptance is in use, and nothing else is covered by it."""
    made = worlds.with_use(worlds.world(), 2, 1, 4, worlds.ADA, option=None)
    made = worlds.with_use(made, 2, 1, 5, worlds.ADA, option=None)
    first, second = worlds.check(made)
    word = acceptance_of(first)

    assert checker.accepted((first, second), (word,)) == ((second,), (word,))


@pytest.mark.parametrize(
    "change",
    [
        {"rule": "option"},
        {"week": 3},
        {"week": None},
        {"session": None},
        {"session": 2},
        {"station": None},
        {"person": worlds.EVE},
        {"person": None},
        {"who": " "},
        {"why": ""},
    ],
)
def test_an_acceptance_covers_only_its_own_place_and_needs_who_and_why(
    change: dict[str, object],
) -> None:
    """Another rule, place or person, or no name or reason: the breach stays open."""
    found = one_breach()
    word = replace(acceptance_of(found), **change)  # type: ignore[arg-type]

    assert checker.accepted((found,), (word,)) == ((found,), ())


@pytest.mark.parametrize("rule", ["ask_first", "latex", "retired_band", "told_limit"])
def test_four_kinds_are_never_accepted(rule: str) -> None:
    """Whatever the breach says of itself, these four wait for a recorded change."""
    found = one_breach(rule)

    assert checker.accepted((found,), (acceptance_of(found),)) == ((found,), ())
    assert rules.BY_NAME[rule].incurable


def test_an_incurable_breach_of_any_rule_is_never_accepted() -> None:
    """The mark on the breach itself is enough."""
    found = replace(one_breach(), incurable=True)

    assert checker.accepted((found,), (acceptance_of(found),)) == ((found,), ())


def test_nothing_incurable_is_found_without_its_mark() -> None:
    """Dot with a band cannot be accepted, by anybody's word."""
    made = worlds.with_use(worlds.world(), 2, 1, 2, worlds.DOT, option=OptionKind.STANDARD)
    found = worlds.check(made)

    still_open, used = checker.accepted(found, tuple(acceptance_of(each) for each in found))

    assert still_open == found
    assert used == ()


def test_an_acceptance_of_a_breach_that_is_gone_is_not_in_use() -> None:
    """A mended plan needs no word."""
    assert checker.accepted((), (acceptance_of(one_breach()),)) == ((), ())
