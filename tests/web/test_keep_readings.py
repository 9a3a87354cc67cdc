import pytest
from tests import questions
from tests.cast import Cast
from tests.fakes import kit

from halewright.store import queries


def _url(cast: Cast) -> str:
    return f"/group/{cast.group.pk}/bands/{kit.band_id(cast)}/measure/keep/"


def _points(cast: Cast) -> int:
    return len(queries.whole(cast.group).bands[0].points)


def test_good_readings_are_kept(cast: Cast) -> None:
    """Six pairs from 50 cm slack come back as metres and newtons."""
    answer = cast.client(cast.alma).post(_url(cast), kit.SENT, follow=True)

    point = queries.whole(cast.group).bands[0].points[4]
    assert "thin is measured." in answer.content.decode()
    assert (point.slack_length_m, point.stretched_length_m, point.reading_n) == (0.5, 1.0, 15.3)


def test_kilograms_become_newtons(cast: Cast) -> None:
    """One kilogram is 9.80665 N."""
    sent = (
        kit.SENT
        | {"unit": "kg"}
        | {
            f"out-reading-{k}": f"{reading / 9.80665:.4f}"
            for k, (_, reading) in enumerate(kit.GOOD, 1)
        }
    )

    cast.client(cast.alma).post(_url(cast), sent)

    assert queries.whole(cast.group).bands[0].points[4].reading_n == pytest.approx(15.3, abs=0.001)


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"slack": ""}, "Give the slack length in centimetres"),
        ({"slack": "fifty"}, "Give the slack length in centimetres"),
        ({"out-length-2": "151"}, "beyond the limit; stop at 150 cm"),
        ({"out-length-2": "50"}, "not longer than the slack length"),
        ({"out-reading-2": ""}, "give both the length and what the scale shows"),
        ({"out-reading-2": "-3"}, "more than nothing"),
        ({f"out-{what}-{k}": "" for what in ("length", "reading") for k in (1, 2)}, "measure at 5"),
    ],
)
def test_what_is_wrong_is_said_and_nothing_is_kept(
    cast: Cast, wrong: dict[str, str], words: str
) -> None:
    """Every slip names its reading; what was typed stays in the form."""
    answer = cast.client(cast.alma).post(_url(cast), kit.SENT | wrong)

    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert 'value="110"' in answer.content.decode()
    assert _points(cast) == 2


def test_a_doubt_is_shown_once_and_kept_when_the_leader_is_sure(cast: Cast) -> None:
    """A reading out of order asks for a second look; the leader has the last word."""
    doubtful = kit.SENT | {"out-reading-4": "9.0"}

    first = cast.client(cast.alma).post(_url(cast), doubtful)
    assert first.status_code == 422
    assert "Reading 4 (9.0 N) is lower than one at a shorter length" in first.content.decode()
    assert _points(cast) == 2

    cast.client(cast.alma).post(_url(cast), doubtful | {"sure": "yes"})
    assert _points(cast) == 6


def test_being_sure_does_not_pass_the_limit(cast: Cast) -> None:
    """Beyond the stretch limit nothing is kept, whoever insists."""
    sent = kit.SENT | {"out-length-6": "160", "sure": "yes"}

    assert cast.client(cast.alma).post(_url(cast), sent).status_code == 422
    assert _points(cast) == 2


def test_readings_on_the_way_back_are_kept_apart(cast: Cast) -> None:
    """Six lengths back give a curve of their own, and what is lost is told on the band's page."""
    back = {
        **{f"back-length-{k}": str(length) for k, (length, _) in enumerate(kit.GOOD, 1)},
        **{f"back-reading-{k}": f"{0.9 * reading:g}" for k, (_, reading) in enumerate(kit.GOOD, 1)},
    }

    answer = cast.client(cast.alma).post(_url(cast), kit.SENT | back, follow=True)

    assert _points(cast) == 12
    assert "Going back it gives 10 % less work than it took." in answer.content.decode()


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
