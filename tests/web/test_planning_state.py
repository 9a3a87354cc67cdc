from django.utils.timezone import now
from tests import questions
from tests.cast import Cast

from halewright.usecases import blocks


def _url(cast: Cast) -> str:
    return f"/planning/{blocks.start(cast.group, by=cast.alma, at=now()).pk}/state/"


def test_it_tells_how_far_planning_is(cast: Cast) -> None:
    """A script learns the words, the share and whether to ask again."""
    answer = cast.client(cast.alma).get(_url(cast))

    assert answer.json() == {"words": "Reading the group", "percent": 0, "running": True}


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
