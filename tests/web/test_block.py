from tests import questions
from tests.cast import Cast

from halewright.store import models


def _url(cast: Cast) -> str:
    return f"/group/{cast.group.pk}/block/"


def test_it_leads_to_the_plan_in_use(cast: Cast, plan: models.PlanDocument) -> None:
    """The block of a group is the plan that was last put to use."""
    answer = cast.client(cast.alma).get(_url(cast))

    assert answer["Location"] == f"/plan/{plan.pk}/"


def test_without_a_plan_it_leads_back_to_the_group(cast: Cast) -> None:
    """There is no empty calendar to be lost in."""
    assert cast.client(cast.alma).get(_url(cast))["Location"] == f"/group/{cast.group.pk}/"


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
