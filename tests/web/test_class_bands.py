from typing import Any

from tests import questions
from tests.cast import Cast
from tests.fakes import kit

from halewright.store import models


def _url(plan: models.PlanDocument) -> str:
    return f"/plan/{plan.pk}/1/1/bands/"


def test_it_says_who_has_which_band_and_where_to_grip(
    cast: Cast, plan: models.PlanDocument
) -> None:
    """Ada has the measured latex-free strip, with centimetres and newtons for each station."""
    kit.measure(cast)

    page = cast.client(cast.alma).get(_url(plan)).content.decode()

    ada = page[page.index("holder-1") : page.index("holder-2")]
    assert "<b>thin</b>, latex-free strip" in ada
    assert " cm</b>" in ada
    assert "N (" in ada
    assert "Before anybody pulls" in page


def test_somebody_without_a_height_gets_no_number(cast: Cast, plan: models.PlanDocument) -> None:
    """Ben's height is not recorded: that is said in place of a guess."""
    kit.measure(cast)

    page = cast.client(cast.alma).get(_url(plan)).content.decode()

    ben = page[page.index("holder-2") : page.index("holder-3")]
    assert "Height is not recorded" in ben
    assert " cm</b>" not in ben


def test_an_unmeasured_band_is_named_and_not_handed_out(
    cast: Cast, plan: models.PlanDocument
) -> None:
    """Without readings there are no newtons, and the sheet says which bands lack them."""
    page = cast.client(cast.alma).get(_url(plan)).content.decode()

    assert "not handed out here:</b> thin, ring." in page
    assert "no strip for this" in page


def test_the_aim_can_be_set(cast: Cast, plan: models.PlanDocument) -> None:
    """A lower aim is a longer grip; nonsense leaves the aim as it was."""
    kit.measure(cast)
    browser = cast.client(cast.alma)

    page = browser.get(_url(plan), {"gentler": "12", "standard": "lots"}).content.decode()

    assert 'name="gentler" value="12"' in page
    assert 'name="standard" value="15"' in page


def test_an_assistant_may_open_it_without_the_cards(cast: Cast, plan: models.PlanDocument) -> None:
    """Bands are handed out by whoever helps; what is behind a load stays with the leader."""
    kit.measure(cast)

    answer = cast.client(cast.bram).get(_url(plan))

    assert answer.status_code == 200
    assert "/load/" not in answer.content.decode()
    assert "/load/" in cast.client(cast.alma).get(_url(plan)).content.decode()


def test_a_session_outside_the_block_is_not_there(cast: Cast, plan: models.PlanDocument) -> None:
    """Week 9 of a two-week block gives no page."""
    assert cast.client(cast.alma).get(f"/plan/{plan.pk}/9/1/bands/").status_code == 404


def test_it_asks_the_database_a_fixed_number_of_times(
    cast: Cast, plan: models.PlanDocument, django_assert_num_queries: Any
) -> None:
    """However many people and stations there are."""
    browser = cast.client(cast.alma)

    with django_assert_num_queries(9):
        browser.get(_url(plan))


def test_the_session_leads_to_it(cast: Cast, plan: models.PlanDocument) -> None:
    """The way to it stands beside the other papers."""
    assert _url(plan) in cast.client(cast.alma).get(f"/plan/{plan.pk}/1/1/").content.decode()


def test_it_takes_one_method(cast: Cast, plan: models.PlanDocument) -> None:
    """Any other way of asking is refused."""
    assert questions.refuses(cast, "POST", _url(plan))


def test_signed_out_it_leads_to_the_door(cast: Cast, plan: models.PlanDocument) -> None:
    """Nobody sees it without signing in."""
    assert questions.sends_to_sign_in(cast, "GET", _url(plan))


def test_a_stranger_learns_nothing(cast: Cast, plan: models.PlanDocument) -> None:
    """For another organisation the page does not exist."""
    assert questions.is_not_there_for_a_stranger(cast, "GET", _url(plan))
