"""Planning as the pages ask for it: last resorts are proposed, never chosen silently."""

from dataclasses import replace

import pytest

from halewright.core.people.group import Group
from halewright.core.people.limits import Limit, Measure, Strength
from halewright.usecases import demo, drafting, groups


@pytest.fixture(scope="module")
def lounge(tmp_path_factory: pytest.TempPathFactory) -> Group:
    """Two weeks of the care-home lounge, with one person who may not push."""
    folder = next(
        each.folder
        for each in demo.listing(tmp_path_factory.mktemp("demo"))
        if each.folder.name == "fernleigh-lounge"
    )
    group = groups.load(folder)
    return replace(group, schedule=replace(group.schedule, weeks=2, test_weeks=()))


def _never(measure: Measure) -> Limit:
    return Limit(
        measure=measure,
        at_most=-1.0,
        strength=Strength.AVOID,
        reason="Told to leave it out.",
        source="Dr Okoro",
        rule="told",
        told_by="Dr Okoro",
    )


def test_a_group_that_suits_has_no_last_resort(lounge: Group) -> None:
    """Where a plan keeps every rule nothing is left to accept."""
    plan = drafting.draft(lounge, seed=1, progress=lambda _words, _share: None)

    assert drafting.check(plan, lounge) == ()


def test_without_any_plan_the_reason_is_told(lounge: Group) -> None:
    """A person who may do nothing at all leaves no plan, with or without last resorts."""
    first, *others = lounge.people
    barred = replace(first, limits=(_never(Measure.STEPS_TO_REMEMBER),))

    with pytest.raises(drafting.NoPlanExists) as raised:
        drafting.draft(
            replace(lounge, people=(barred, *others)),
            seed=1,
            progress=lambda _words, _share: None,
        )

    assert raised.value.ways_out
    assert first.preferred_name in str(raised.value)
