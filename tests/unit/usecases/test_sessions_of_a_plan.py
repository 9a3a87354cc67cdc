"""What people do with one session of a plan, with movements, and with plans on disk."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from tests import stories

from halewright.core.catalogue.words import OptionKind
from halewright.core.errors import BadInput, NoSuchSession
from halewright.core.people.person import PersonId
from halewright.core.planning.plan import Acceptance
from halewright.core.screening.verdict import Fit
from halewright.core.session.timeline import EventKind
from halewright.usecases import catalogue, judging, plans, sessions


def test_a_timeline_is_that_of_its_session() -> None:
    """Week 2, session 1 is laid out over its own slot with its own six stations."""
    plan = stories.plain_plan(stories.four_chairs())

    timeline = sessions.timeline(plan, week=2, session=1)

    worked = {event.movement for event in timeline.events if event.kind is EventKind.WORK}
    outline = sessions.outline(plan, week=2, session=1)
    assert timeline.slot_ms == outline.slot_ms
    assert worked == {station.movement for station in outline.main}


@pytest.mark.parametrize(("week", "number"), [(0, 1), (1, 0), (3, 1), (1, 3)])
def test_a_session_outside_the_block_is_named(week: int, number: int) -> None:
    """A week or session that the block does not hold is refused in a sentence."""
    plan = stories.plain_plan(stories.four_chairs())

    with pytest.raises(NoSuchSession, match=f"no session {number} in week {week}"):
        sessions.outline(plan, week=week, session=number)


def test_the_leaders_sheet_has_names_and_the_wall_copy_none() -> None:
    """The same session, once with who is expected and once with nobody."""
    group = stories.four_chairs()
    plan = stories.plain_plan(group)

    named = sessions.run_sheet(plan, group, week=1, session=2)
    wall = sessions.wall_copy(plan, group, week=1, session=2)

    assert named.expected == ("Ada", "Ben", "Con", "Dot")
    assert wall.expected == ()
    assert [each.start_ms for each in wall.sections] == [each.start_ms for each in named.sections]


def test_a_plan_on_disk_is_the_plan(tmp_path: Path) -> None:
    """A plan that is saved and read is equal to the one that was made."""
    plan = stories.plain_plan(stories.four_chairs())

    plans.save(plan, tmp_path / "plan.json")

    assert plans.read(tmp_path / "plan.json") == plan


def test_an_accepted_breach_is_told_apart() -> None:
    """A breach that the leader accepted is no longer open, and is still told."""
    group = stories.four_chairs()
    plan = stories.plain_plan(group)
    before = plans.check(plan, group)
    one = next(each for each in before.violations if not each.incurable)
    acceptance = Acceptance(
        rule=one.rule,
        week=one.week,
        session=one.session,
        station=one.station,
        person=one.person,
        who="Alma",
        on=date(2026, 11, 20),
        why="A hall rule.",
    )

    after = plans.check(replace(plan, accepted=(acceptance,)), group)

    assert acceptance in after.accepted
    assert one not in after.violations
    assert len(after.violations) < len(before.violations)


def test_everybody_is_judged_for_everything() -> None:
    """The matrix has a verdict for each person and each way of each movement."""
    ready = judging.judged(stories.four_chairs())

    ways = [
        (key, each.kind) for key, movement in ready.catalogue.items() for each in movement.options
    ]
    assert len(ready.matrix) == 4 * len(ways)


def test_an_open_question_keeps_somebody_from_rising() -> None:
    """Dot has answered no health screen: every rise is not suitable for her, with a reason."""
    ready = judging.judged(stories.four_chairs())

    verdict = ready.matrix[PersonId("dot"), "sit-to-stand-hands", OptionKind.STANDARD]

    assert verdict.fit is Fit.NOT_SUITABLE
    assert verdict.reasons


def test_a_file_is_checked_as_if_it_stood_in_the_catalogue(tmp_path: Path) -> None:
    """A shipped file by another name is one movement with its faults, and nothing of the rest."""
    odd = tmp_path / "odd.toml"
    odd.write_text('id = "odd"\n', encoding="utf-8")

    found = catalogue.check_files((odd,))

    assert found.movements == 1
    assert {problem.file for problem in found.problems} == {"odd.toml"}


def test_a_plan_of_another_kind_is_refused(tmp_path: Path) -> None:
    """A timeline given as a plan is refused with the kind that was wanted."""
    path = tmp_path / "t.json"
    path.write_text('{"schema": "halewright.timeline", "version": 1}', encoding="utf-8")

    with pytest.raises(BadInput, match=r"halewright\.plan"):
        plans.read(path)
