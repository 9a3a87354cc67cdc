from tests import questions
from tests.cast import Cast

from halewright.store import models

GAP = {"rule": "gap_between_sessions", "week": "1", "session": "2", "station": "", "person": ""}
ASK = {"rule": "ask_first", "week": "1", "session": "1", "station": "1", "person": "ada"}
WORD = {"who": "Alma Reyes", "why": "The hall is free only then."}


def _url(plan: models.PlanDocument) -> str:
    return f"/plan/{plan.pk}/breaches/accept/"


def test_the_last_word_is_recorded(cast: Cast, plan: models.PlanDocument) -> None:
    """Who, when and why are kept, and shown beside the breach."""
    page = cast.client(cast.alma).post(_url(plan), GAP | WORD, follow=True).content.decode()

    row = models.AcceptedBreach.objects.get()
    assert (row.who, row.why, row.by) == ("Alma Reyes", "The hall is free only then.", cast.alma)
    assert "Accepted by Alma Reyes" in page


def test_the_incurable_kind_cannot_be_accepted(cast: Cast, plan: models.PlanDocument) -> None:
    """An undecided ask-first flag is cured by a decision, never accepted away."""
    answer = cast.client(cast.alma).post(_url(plan), ASK | WORD)

    assert answer.status_code == 422
    assert "cannot be accepted" in answer.content.decode()
    assert not models.AcceptedBreach.objects.exists()


def test_no_word_without_a_reason(cast: Cast, plan: models.PlanDocument) -> None:
    """A blank reason is refused."""
    answer = cast.client(cast.alma).post(_url(plan), GAP | WORD | {"why": " "})

    assert answer.status_code == 422
    assert not models.AcceptedBreach.objects.exists()


def test_a_breach_that_is_none_is_not_accepted(cast: Cast, plan: models.PlanDocument) -> None:
    """Only what the checker finds can be accepted."""
    cast.client(cast.alma).post(_url(plan), GAP | WORD | {"rule": "made_up"})

    assert not models.AcceptedBreach.objects.exists()


def test_twice_keeps_the_first_word(cast: Cast, plan: models.PlanDocument) -> None:
    """A second acceptance does not change the first."""
    browser = cast.client(cast.alma)
    browser.post(_url(plan), GAP | WORD)
    browser.post(_url(plan), GAP | WORD | {"why": "Another reason."})

    assert models.AcceptedBreach.objects.get().why == "The hall is free only then."


def test_it_takes_one_method(cast: Cast, plan: models.PlanDocument) -> None:
    """Any other way of asking is refused."""
    assert questions.refuses(cast, "GET", _url(plan))


def test_signed_out_it_leads_to_the_door(cast: Cast, plan: models.PlanDocument) -> None:
    """Nobody sees it without signing in."""
    assert questions.sends_to_sign_in(cast, "POST", _url(plan))


def test_a_stranger_learns_nothing(cast: Cast, plan: models.PlanDocument) -> None:
    """For another organisation the page does not exist."""
    assert questions.is_not_there_for_a_stranger(cast, "POST", _url(plan))


def test_an_assistant_is_turned_away(cast: Cast, plan: models.PlanDocument) -> None:
    """This is the leader's."""
    assert questions.is_the_leaders(cast, "POST", _url(plan))
