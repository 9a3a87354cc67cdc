from tests import questions
from tests.cast import Cast


def _url(cast: Cast) -> str:
    return f"/group/{cast.group.pk}/bands/how-to-measure/"


def test_it_has_the_cautions_the_steps_and_room_to_write(cast: Cast) -> None:
    """Ten empty rows, and the stretch at which to stop."""
    page = cast.client(cast.alma).get(_url(cast)).content.decode()

    assert "Wear eye protection" in page
    assert "Stop at 3 times the slack length." in page
    assert page.count('<tr><th scope="row">') == 10


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
