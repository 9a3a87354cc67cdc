from tests import questions
from tests.cast import Cast

from halewright.store import models


def test_each_breach_says_where_and_for_whom(cast: Cast, plan: models.PlanDocument) -> None:
    """A leader can find what to mend."""
    page = cast.client(cast.alma).get(f"/plan/{plan.pk}/breaches/").content.decode()

    assert "Week 1, session 2" in page
    assert "Week 1, session 1, station 1: Ada" in page


def test_the_incurable_kind_has_no_form(cast: Cast, plan: models.PlanDocument) -> None:
    """Of two breaches only one may be accepted; the other says how it is cured."""
    page = cast.client(cast.alma).get(f"/plan/{plan.pk}/breaches/").content.decode()

    assert page.count("Accept this breach") == 1
    assert "Only a recorded change to the person or the kit" in page


def test_it_takes_one_method(cast: Cast, plan: models.PlanDocument) -> None:
    """Any other way of asking is refused."""
    assert questions.refuses(cast, "POST", f"/plan/{plan.pk}/breaches/")


def test_signed_out_it_leads_to_the_door(cast: Cast, plan: models.PlanDocument) -> None:
    """Nobody sees it without signing in."""
    assert questions.sends_to_sign_in(cast, "GET", f"/plan/{plan.pk}/breaches/")


def test_a_stranger_learns_nothing(cast: Cast, plan: models.PlanDocument) -> None:
    """For another organisation the page does not exist."""
    assert questions.is_not_there_for_a_stranger(cast, "GET", f"/plan/{plan.pk}/breaches/")


def test_an_assistant_is_turned_away(cast: Cast, plan: models.PlanDocument) -> None:
    """This is the leader's."""
    assert questions.is_the_leaders(cast, "GET", f"/plan/{plan.pk}/breaches/")
