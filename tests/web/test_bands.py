from typing import Any

from tests import questions
from tests.cast import Cast
from tests.fakes import kit


def _url(cast: Cast) -> str:
    return f"/group/{cast.group.pk}/bands/"


def test_it_says_which_bands_are_measured_and_which_need_a_look(cast: Cast) -> None:
    """A measured band tells its force at twice its slack length; an unchecked one is told."""
    kit.measure(cast)

    page = cast.client(cast.alma).get(_url(cast)).content.decode()

    assert "at twice its slack length 15 N (10 to 20 N)" in page
    assert "not measured yet" in page
    assert "No check is recorded." in page


def test_it_carries_the_cautions(cast: Cast) -> None:
    """Nobody is led to measuring without being told how an eye is kept."""
    page = cast.client(cast.alma).get(_url(cast)).content.decode()

    assert "Wear eye protection" in page
    assert "never with a bare hook" in page


def test_it_asks_the_database_a_fixed_number_of_times(
    cast: Cast, django_assert_num_queries: Any
) -> None:
    """However many bands there are."""
    browser = cast.client(cast.alma)

    with django_assert_num_queries(10):
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
