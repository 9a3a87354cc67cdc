from tests import questions
from tests.cast import Cast

from halewright.store import models


def test_it_shows_parts_stations_notices_and_who_does_what(
    cast: Cast, plan: models.PlanDocument
) -> None:
    """A leader sees the whole session and every way that is not the group's own."""
    page = cast.client(cast.alma).get(f"/plan/{plan.pk}/1/1/").content.decode()

    assert all(part in page for part in ("Warm-up", "Main part", "Cool-down"))
    assert "Ada: First time with the loop." in page
    assert "Gentler" in page


def test_an_assistant_may_open_it(cast: Cast, plan: models.PlanDocument) -> None:
    """Helping on the day begins here: who does what, without the reason in anybody's health."""
    answer = cast.client(cast.bram).get(f"/plan/{plan.pk}/1/1/")

    assert answer.status_code == 200
    assert "Ada" in answer.content.decode()
    assert "shoulder</span>" not in answer.content.decode()
    assert "shoulder</span>" in (
        cast.client(cast.alma).get(f"/plan/{plan.pk}/1/1/").content.decode()
    )


def test_a_session_outside_the_block_is_not_there(cast: Cast, plan: models.PlanDocument) -> None:
    """Week 9 of a two-week block gives no page."""
    assert cast.client(cast.alma).get(f"/plan/{plan.pk}/9/1/").status_code == 404


def test_it_takes_one_method(cast: Cast, plan: models.PlanDocument) -> None:
    """Any other way of asking is refused."""
    assert questions.refuses(cast, "POST", f"/plan/{plan.pk}/1/1/")


def test_signed_out_it_leads_to_the_door(cast: Cast, plan: models.PlanDocument) -> None:
    """Nobody sees it without signing in."""
    assert questions.sends_to_sign_in(cast, "GET", f"/plan/{plan.pk}/1/1/")


def test_a_stranger_learns_nothing(cast: Cast, plan: models.PlanDocument) -> None:
    """For another organisation the page does not exist."""
    assert questions.is_not_there_for_a_stranger(cast, "GET", f"/plan/{plan.pk}/1/1/")
