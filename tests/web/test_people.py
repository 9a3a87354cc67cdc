from typing import Any

from tests import questions
from tests.cast import Cast


def _url(cast: Cast) -> str:
    return f"/group/{cast.group.pk}/people/"


def test_it_lists_everybody_with_what_matters(cast: Cast) -> None:
    """Each person's line says in words whether there is something to avoid or to ask."""
    page = cast.client(cast.alma).get(_url(cast)).content.decode()

    assert all(name in page for name in ("Ada", "Ben", "Con", "Dot"))
    assert "to avoid" in page
    assert "to ask first" in page


def test_it_asks_the_database_eight_times(cast: Cast, django_assert_num_queries: Any) -> None:
    """The number of questions does not grow with the number of people."""
    browser = cast.client(cast.alma)

    with django_assert_num_queries(8):
        browser.get(_url(cast))


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
