from tests import questions
from tests.cast import Cast

from halewright.store import models


def test_it_tells_the_session_in_order_with_names(cast: Cast, plan: models.PlanDocument) -> None:
    """The leader's copy has the clock, the stations and who needs which option."""
    page = cast.client(cast.alma).get(f"/plan/{plan.pk}/1/1/run-sheet/").content.decode()

    parts = ("Welcome", "Warm-up", "Main part", "Cool-down")
    places = [page.index(part) for part in parts]
    assert places == sorted(places)
    assert "18:30" in page
    assert "<b>Gentler:</b> Ada." in page


def test_an_assistant_may_open_it(cast: Cast, plan: models.PlanDocument) -> None:
    """A cover leader can walk in and be safe."""
    url = f"/plan/{plan.pk}/1/1/run-sheet/"

    assert cast.client(cast.bram).get(url).status_code == 200


def test_it_takes_one_method(cast: Cast, plan: models.PlanDocument) -> None:
    """Any other way of asking is refused."""
    assert questions.refuses(cast, "POST", f"/plan/{plan.pk}/1/1/run-sheet/")


def test_signed_out_it_leads_to_the_door(cast: Cast, plan: models.PlanDocument) -> None:
    """Nobody sees it without signing in."""
    assert questions.sends_to_sign_in(cast, "GET", f"/plan/{plan.pk}/1/1/run-sheet/")


def test_a_stranger_learns_nothing(cast: Cast, plan: models.PlanDocument) -> None:
    """For another organisation the page does not exist."""
    assert questions.is_not_there_for_a_stranger(cast, "GET", f"/plan/{plan.pk}/1/1/run-sheet/")
