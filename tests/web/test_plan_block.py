from datetime import timedelta

from django.utils.timezone import now
from tests import questions
from tests.cast import Cast

from halewright.store import models
from halewright.usecases import blocks


def _url(cast: Cast) -> str:
    return f"/group/{cast.group.pk}/plan/"


def test_it_makes_a_plan_and_shows_it(cast: Cast) -> None:
    """Planning ends at the block; the first plan of a group is in use at once."""
    answer = cast.client(cast.alma).post(_url(cast), follow=True)

    plan = models.PlanDocument.objects.get()
    assert answer.redirect_chain[-1] == (f"/plan/{plan.pk}/", 302)
    assert plan.accepted_by == cast.alma
    assert models.PlanningRun.objects.get().state == models.RunState.DONE


def test_planning_again_looks_elsewhere_and_changes_nothing_in_use(
    cast: Cast, plan: models.PlanDocument
) -> None:
    """A second plan has another seed and waits until the leader uses it."""
    cast.client(cast.alma).post(_url(cast))

    newest = models.PlanDocument.objects.order_by("-id")[0]
    assert newest.pk != plan.pk
    assert newest.seed == 2
    assert newest.accepted_at is None


def test_twice_at_once_is_one_run(cast: Cast) -> None:
    """A second request joins the run that is under way."""
    run = blocks.start(cast.group, by=cast.alma, at=now())

    answer = cast.client(cast.alma).post(_url(cast))

    assert answer["Location"] == f"/planning/{run.pk}/"
    assert models.PlanningRun.objects.count() == 1


def test_a_run_that_fell_silent_does_not_stand_in_the_way(cast: Cast) -> None:
    """When the program ended in the middle of planning, planning can begin anew."""
    blocks.start(cast.group, by=cast.alma, at=now() - timedelta(hours=1))

    cast.client(cast.alma).post(_url(cast))

    states = list(models.PlanningRun.objects.order_by("id").values_list("state", flat=True))
    assert states == ["stopped", "done"]


def test_it_takes_one_method(cast: Cast) -> None:
    """Any other way of asking is refused."""
    assert questions.refuses(cast, "GET", _url(cast))


def test_signed_out_it_leads_to_the_door(cast: Cast) -> None:
    """Nobody sees it without signing in."""
    assert questions.sends_to_sign_in(cast, "POST", _url(cast))


def test_a_stranger_learns_nothing(cast: Cast) -> None:
    """For another organisation the page does not exist."""
    assert questions.is_not_there_for_a_stranger(cast, "POST", _url(cast))


def test_an_assistant_is_turned_away(cast: Cast) -> None:
    """This is the leader's."""
    assert questions.is_the_leaders(cast, "POST", _url(cast))
