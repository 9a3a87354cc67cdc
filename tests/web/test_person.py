from tests import questions
from tests.cast import Cast


def _url(cast: Cast, key: str = "ada") -> str:
    return f"/group/{cast.group.pk}/people/{key}/"


def test_it_says_what_to_avoid_why_and_who_says_so(cast: Cast) -> None:
    """The reason and the source stand beside each caution."""
    page = cast.client(cast.alma).get(_url(cast)).content.decode()

    assert "Right arm no higher than the shoulder." in page
    assert "Source: Nell Byrne, physiotherapist" in page
    assert "Reviewed Thursday 1 October 2026" in page


def test_whom_to_ring_is_there_or_said_to_be_missing(cast: Cast) -> None:
    """A missing contact is not left blank."""
    browser = cast.client(cast.alma)

    assert "01632 960 111" in browser.get(_url(cast)).content.decode()
    assert "Nobody is recorded" in browser.get(_url(cast, "ben")).content.decode()


def test_somebody_who_is_not_in_the_group_is_not_there(cast: Cast) -> None:
    """An unknown identifier gives no page."""
    assert cast.client(cast.alma).get(_url(cast, "zoe")).status_code == 404


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
