from django.utils.timezone import now
from tests import questions
from tests.cast import Cast

from halewright.store import models
from halewright.usecases import blocks


def _run(cast: Cast) -> models.PlanningRun:
    return blocks.start(cast.group, by=cast.alma, at=now())


def _url(cast: Cast) -> str:
    return f"/planning/{_run(cast).pk}/"


def test_it_shows_how_far_planning_is_and_refreshes_without_script(cast: Cast) -> None:
    """Progress is visible, and without a script the page comes again by itself."""
    page = cast.client(cast.alma).get(_url(cast)).content.decode()

    assert "Reading the group" in page
    assert "<progress" in page
    assert '<noscript><meta http-equiv="refresh"' in page


def test_it_leads_on_when_the_plan_is_ready(cast: Cast, plan: models.PlanDocument) -> None:
    """Whoever waits is led to the block."""
    run = _run(cast)
    models.PlanningRun.objects.update(state="done", plan=plan)

    answer = cast.client(cast.alma).get(f"/planning/{run.pk}/")

    assert answer["Location"] == f"/plan/{plan.pk}/"


def test_it_says_why_there_is_no_plan(cast: Cast) -> None:
    """A run that stopped says so in words and offers to begin again."""
    run = _run(cast)
    models.PlanningRun.objects.update(state="stopped", said="The slot is too short.")

    page = cast.client(cast.alma).get(f"/planning/{run.pk}/").content.decode()

    assert "The slot is too short." in page
    assert "Plan again" in page


def test_it_takes_one_method(cast: Cast) -> None:
    """Any other way of asking is refused."""
    assert questions.refuses(cast, "POST", _url(cast))


def test_signed_out_it_leads_to_the_door(cast: Cast) -> None:
    """Nobody sees it without signing in."""
    assert questions.sends_to_sign_in(cast, "GET", _url(cast))


def test_a_stranger_learns_nothing(cast: Cast) -> None:
    """For another organisation the page does not exist."""
    assert questions.is_not_there_for_a_stranger(cast, "GET", _url(cast))


def test_an_assistant_is_turned_away(cast: Cast) -> None:
    """This is the leader's."""
    assert questions.is_the_leaders(cast, "GET", _url(cast))
