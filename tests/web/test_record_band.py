from datetime import date

from tests import questions
from tests.cast import Cast
from tests.fakes import kit

from halewright.store import queries


def _url(cast: Cast) -> str:
    return f"/group/{cast.group.pk}/bands/{kit.band_id(cast)}/record/"


def test_first_use_and_batch_are_kept(cast: Cast) -> None:
    """Both stand on the band's page."""
    sent = {"first_used_on": "2026-09-01", "batch": "L 12"}

    answer = cast.client(cast.alma).post(_url(cast), sent, follow=True)

    band = queries.whole(cast.group).bands[0]
    assert (band.first_used_on, band.batch) == (date(2026, 9, 1), "L 12")
    assert "Tuesday 1 September 2026" in answer.content.decode()


def test_a_day_to_come_is_refused(cast: Cast) -> None:
    """Nothing is kept."""
    answer = cast.client(cast.alma).post(_url(cast), {"first_used_on": "2999-01-01", "batch": "x"})

    assert answer.status_code == 422
    assert queries.whole(cast.group).bands[0].batch == ""


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
