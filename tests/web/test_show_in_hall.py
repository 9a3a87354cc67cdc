from pathlib import Path

from tests import questions, stories
from tests.cast import Cast

from halewright.store import models
from halewright.usecases import hall


def test_it_puts_the_session_on_the_hall_screen(
    cast: Cast, plan: models.PlanDocument, tmp_path: Path
) -> None:
    """The hall screen gets this session, and nothing about anybody goes with it."""
    answer = cast.client(cast.alma).post(f"/plan/{plan.pk}/1/1/show/")

    shown = hall.shown(tmp_path).decode()
    assert answer["Location"] == "/hall/"
    assert "Arm curl" in shown
    assert all(word not in shown for word in ("Ada", "Harbour", stories.PRIVATE_NOTE))


def test_an_assistant_may_show_it(cast: Cast, plan: models.PlanDocument) -> None:
    """Whoever runs the session on the day starts the screen."""
    answer = cast.client(cast.bram).post(f"/plan/{plan.pk}/1/1/show/")

    assert answer.status_code == 302


def test_it_takes_one_method(cast: Cast, plan: models.PlanDocument) -> None:
    """Any other way of asking is refused."""
    assert questions.refuses(cast, "GET", f"/plan/{plan.pk}/1/1/show/")


def test_signed_out_it_leads_to_the_door(cast: Cast, plan: models.PlanDocument) -> None:
    """Nobody sees it without signing in."""
    assert questions.sends_to_sign_in(cast, "POST", f"/plan/{plan.pk}/1/1/show/")


def test_a_stranger_learns_nothing(cast: Cast, plan: models.PlanDocument) -> None:
    """For another organisation the page does not exist."""
    assert questions.is_not_there_for_a_stranger(cast, "POST", f"/plan/{plan.pk}/1/1/show/")
