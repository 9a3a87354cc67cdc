import pytest
from tests import questions, stories
from tests.cast import Cast

from halewright.store import models, queries
from halewright.usecases import cautions

SENT = {"answer": "go", "by": "Dr Ines Okoro", "on": "2026-11-23", "note": "seen in clinic"}


def _url(cast: Cast) -> str:
    return f"/group/{cast.group.pk}/people/ada/decide/"


def _flag() -> str:
    outcome = cautions.outcomes(stories.four_chairs(), on=stories.STARTS_ON)
    return next(flags.flags[0].flag for key, flags in outcome.items() if key == "ada")


def test_a_decision_is_recorded_with_who_when_and_why(cast: Cast) -> None:
    """The decision comes back with the group, and the old facts stay."""
    before = models.HealthFact.objects.count()

    answer = cast.client(cast.alma).post(_url(cast), SENT | {"flag": _flag()}, follow=True)

    made = queries.whole(cast.group).decisions[-1]
    assert "The decision is recorded" in answer.content.decode()
    assert (made.by, made.note, made.go_ahead) == ("Dr Ines Okoro", "seen in clinic", True)
    assert models.HealthFact.objects.count() == before + 1


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"answer": ""}, "Choose “go ahead” or “wait”."),
        ({"by": " "}, "Give the name of who decided."),
        ({"on": "soon"}, "Give the day of the decision"),
        ({"on": "2999-01-01"}, "cannot be in the future"),
    ],
)
def test_what_is_missing_is_said_and_nothing_is_recorded(
    cast: Cast, wrong: dict[str, str], words: str
) -> None:
    """No decision without an answer, a name and a day."""
    before = models.HealthFact.objects.count()

    answer = cast.client(cast.alma).post(_url(cast), SENT | {"flag": _flag()} | wrong)

    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert models.HealthFact.objects.count() == before


def test_a_flag_that_was_not_raised_cannot_be_decided(cast: Cast) -> None:
    """A decision answers something that was asked."""
    answer = cast.client(cast.alma).post(_url(cast), SENT | {"flag": "made-up"})

    assert answer.status_code == 422


def test_twice_keeps_both(cast: Cast) -> None:
    """A second decision is added to the first, which stays in the record."""
    before = models.HealthFact.objects.count()

    for answer in ("go", "wait"):
        cast.client(cast.alma).post(_url(cast), SENT | {"flag": _flag(), "answer": answer})

    assert models.HealthFact.objects.count() == before + 2
    assert queries.whole(cast.group).decisions[-1].go_ahead is False


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
