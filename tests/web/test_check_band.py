from datetime import date

import pytest
from tests import questions
from tests.cast import Cast
from tests.fakes import kit

from halewright.store import queries

SENT = {"result": "watch", "fault": "a pale patch", "on": "2026-11-03"}


def _url(cast: Cast) -> str:
    return f"/group/{cast.group.pk}/bands/{kit.band_id(cast)}/check/"


def test_a_check_is_recorded_with_who_when_and_what(cast: Cast) -> None:
    """It stands on the band's page, and the band is watched."""
    answer = cast.client(cast.alma).post(_url(cast), SENT, follow=True)

    band = queries.whole(cast.group).bands[0]
    assert (band.checks[0].by, band.checks[0].on) == ("Alma Reyes", date(2026, 11, 3))
    assert "To watch since the last check: a pale patch." in answer.content.decode()


def test_retiring_takes_it_out_of_use(cast: Cast) -> None:
    """From that day on it is never handed out."""
    cast.client(cast.alma).post(_url(cast), SENT | {"result": "retired"})

    assert queries.whole(cast.group).bands[0].retired_on == date(2026, 11, 3)


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"result": ""}, "Choose what you found."),
        ({"fault": " "}, "Say what the fault is"),
        ({"on": "soon"}, "Give the day of the check"),
        ({"on": "2999-01-01"}, "not later than today"),
    ],
)
def test_what_is_missing_is_said_and_nothing_is_recorded(
    cast: Cast, wrong: dict[str, str], words: str
) -> None:
    """No check without a finding and a day, no fault without words."""
    answer = cast.client(cast.alma).post(_url(cast), SENT | wrong)

    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert queries.whole(cast.group).bands[0].checks == ()


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
