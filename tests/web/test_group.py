from typing import Any

from tests import questions, stories
from tests.cast import Cast

from halewright.store import models


def _url(cast: Cast) -> str:
    return f"/group/{cast.group.pk}/"


def test_the_next_session_stands_first(cast: Cast, plan: models.PlanDocument) -> None:
    """What comes next is the first thing, with the way to its run sheet."""
    assert plan.pk

    page = cast.client(cast.alma).get(_url(cast)).content.decode()

    assert f"/plan/{plan.pk}/" in page
    assert "Run sheet" in page or "The block is over" in page


def test_before_a_block_it_offers_to_plan_one(cast: Cast) -> None:
    """A group without a plan has one main thing to do."""
    page = cast.client(cast.alma).get(_url(cast)).content.decode()

    assert "Plan the block" in page
    assert "thin × 4" in page


def test_an_assistant_sees_the_session_and_nobodys_health(
    cast: Cast, plan: models.PlanDocument
) -> None:
    """An assistant gets tonight, not the people, the kit or the block."""
    assert plan.pk

    page = cast.client(cast.bram).get(_url(cast)).content.decode()

    assert "People and their cautions" not in page
    assert stories.PRIVATE_NOTE not in page


def test_it_asks_the_database_nine_times(
    cast: Cast, plan: models.PlanDocument, django_assert_num_queries: Any
) -> None:
    """Session, user, member, group, plan, its acceptances, people, facts, bands and readings."""
    assert plan.pk
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
