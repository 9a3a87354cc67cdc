from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime

import pytest
from tests import stories
from tests.cast import Cast

from halewright.core.errors import HalewrightError
from halewright.core.people.group import Group
from halewright.core.planning.plan import Plan, Violation
from halewright.store import models, queries
from halewright.usecases import blocks

pytestmark = pytest.mark.django_db
NOW = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)


class Planner:
    """A planner that says and finds what a test tells it to."""

    def __init__(
        self,
        *,
        ends: Plan | Exception,
        says: tuple[tuple[str, float], ...] = (),
        finds: tuple[Violation, ...] = (),
        after_saying: Callable[[], None] = lambda: None,
    ) -> None:
        self._ends, self._says, self._finds = ends, says, finds
        self._after_saying = after_saying

    def draft(self, group: Group, *, seed: int, progress: blocks.Progress) -> Plan:
        """Tell progress, then end as told."""
        assert group.name == "Four Chairs"
        assert seed >= 1
        for words, share in self._says:
            progress(words, share)
            self._after_saying()
        if isinstance(self._ends, Exception):
            raise self._ends
        return self._ends

    def check(self, plan: Plan, group: Group) -> tuple[Violation, ...]:
        """Find what was told."""
        assert plan.group == group.name
        return self._finds


def _plan() -> Plan:
    return stories.plain_plan(stories.four_chairs())


def _carry_out(cast: Cast, planner: Planner) -> models.PlanningRun:
    run = blocks.start(cast.group, by=cast.alma, at=NOW)
    blocks.carry_out(run.pk, planner=planner, clock=lambda: NOW)
    run.refresh_from_db()
    return run


def test_progress_is_kept_where_a_page_can_see_it(cast: Cast) -> None:
    """While the planner works, its words and its share are in the run's row."""
    seen: list[tuple[str, float]] = []

    def look() -> None:
        row = models.PlanningRun.objects.get()
        seen.append((row.said, row.done_share))

    says = (("Laying out the weeks", 0.25),)
    run = _carry_out(cast, Planner(ends=_plan(), says=says, after_saying=look))

    assert seen == [("Laying out the weeks", 0.25)]
    assert (run.state, run.done_share) == (models.RunState.DONE, 1.0)


def test_a_refusal_is_told_in_its_own_words(cast: Cast) -> None:
    """Where there is no plan, the run says why and nothing is kept."""
    run = _carry_out(cast, Planner(ends=HalewrightError("The slot is too short.")))

    assert run.state == models.RunState.STOPPED
    assert run.said == "The slot is too short."
    assert not models.PlanDocument.objects.exists()


def test_a_fault_is_not_hidden_and_does_not_leave_the_run_hanging(cast: Cast) -> None:
    """A fault of our own is raised for the log, and the page says that planning ended."""
    with pytest.raises(ZeroDivisionError):
        _carry_out(cast, Planner(ends=ZeroDivisionError()))

    run = models.PlanningRun.objects.get()
    assert run.state == models.RunState.STOPPED
    assert "a fault in Halewright itself" in run.said


def test_a_share_beyond_the_whole_is_held_at_the_whole(cast: Cast) -> None:
    """A planner that counts too far does not break its own run."""
    run = _carry_out(cast, Planner(ends=_plan(), says=(("Nearly there", 1.7),)))

    assert run.state == models.RunState.DONE


def test_an_acceptance_does_not_cover_what_became_incurable(
    cast: Cast, plan: models.PlanDocument
) -> None:
    """A word given on a curable breach lapses when the same place becomes one of the four kinds."""
    mild = Violation(rule="latex", words="Latex for Ben.", week=1)
    blocks.accept(mild, plan=plan, who="Alma", why="checked", by=cast.alma, at=NOW)

    stern = Planner(ends=_plan(), finds=(replace(mild, incurable=True),))
    found = blocks.breaches(plan, group=queries.whole(cast.group), planner=stern)

    assert [accepted for _, accepted in found] == [None]
