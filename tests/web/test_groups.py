from typing import Any

from tests import questions
from tests.cast import Cast

URL = "/"


def test_it_lists_the_groups_with_their_people(cast: Cast) -> None:
    """A leader sees each group and how many come."""
    page = cast.client(cast.alma).get(URL).content.decode()

    assert "Four Chairs" in page
    assert "4 people" in page


def test_a_stranger_sees_only_their_own(cast: Cast) -> None:
    """Another organisation's list does not hold it."""
    assert b"Four Chairs" not in cast.client(cast.cass).get(URL).content


def test_an_assistant_may_look_but_not_bring_in(cast: Cast) -> None:
    """An assistant finds the group and no form."""
    page = cast.client(cast.bram).get(URL).content.decode()

    assert "Four Chairs" in page
    assert "Bring in a group" not in page


def test_it_asks_the_database_four_times(cast: Cast, django_assert_num_queries: Any) -> None:
    """Session, user, member, groups: however many groups there are."""
    browser = cast.client(cast.alma)

    with django_assert_num_queries(4):
        browser.get(URL)


def test_it_takes_one_method(cast: Cast) -> None:
    """Any other way of asking is refused."""
    assert questions.refuses(cast, "POST", URL)


def test_signed_out_it_leads_to_the_door(cast: Cast) -> None:
    """Nobody sees it without signing in."""
    assert questions.sends_to_sign_in(cast, "GET", URL)
