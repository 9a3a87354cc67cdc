from tests import questions, stories
from tests.cast import Cast

from halewright.store import models


def test_it_has_stop_signs_the_drill_the_place_and_whom_to_ring(
    cast: Cast, plan: models.PlanDocument
) -> None:
    """Everything for the first five minutes stands on one page."""
    page = cast.client(cast.bram).get(f"/plan/{plan.pk}/1/1/emergency/").content.decode()

    assert "Stop this person now" in page
    assert "2 Quay Lane" in page
    assert "01632 960 111" in page
    assert "reliever inhaler" in page


def test_it_has_no_more_health_than_a_crew_needs(cast: Cast, plan: models.PlanDocument) -> None:
    """Private notes stay on the leader's page."""
    page = cast.client(cast.alma).get(f"/plan/{plan.pk}/1/1/emergency/").content.decode()

    assert stories.PRIVATE_NOTE not in page


def test_it_takes_one_method(cast: Cast, plan: models.PlanDocument) -> None:
    """Any other way of asking is refused."""
    assert questions.refuses(cast, "POST", f"/plan/{plan.pk}/1/1/emergency/")


def test_signed_out_it_leads_to_the_door(cast: Cast, plan: models.PlanDocument) -> None:
    """Nobody sees it without signing in."""
    assert questions.sends_to_sign_in(cast, "GET", f"/plan/{plan.pk}/1/1/emergency/")


def test_a_stranger_learns_nothing(cast: Cast, plan: models.PlanDocument) -> None:
    """For another organisation the page does not exist."""
    assert questions.is_not_there_for_a_stranger(cast, "GET", f"/plan/{plan.pk}/1/1/emergency/")
