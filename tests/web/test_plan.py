from typing import Any

from tests import questions, stories
from tests.cast import KEPT_AT, Cast

from halewright.store import models
from halewright.usecases import blocks


def test_it_shows_weeks_days_set_ups_changes_and_breaches(
    cast: Cast, plan: models.PlanDocument
) -> None:
    """The whole block can be taken in at a glance."""
    page = cast.client(cast.alma).get(f"/plan/{plan.pk}/").content.decode()

    assert "Week 1" in page
    assert "Tue 1 Dec: first with bands" in page
    assert "6 stations × 2 rounds" in page
    assert "changes of set-up" in page
    assert "2 breaches" in page


def test_a_plan_that_is_not_in_use_says_so(cast: Cast, plan: models.PlanDocument) -> None:
    """A newer plan is offered, and does not pretend to be in use."""
    assert plan.pk
    value = stories.plain_plan(stories.four_chairs(), seed=2)
    other = blocks.keep(value, group=cast.group, by=cast.alma, at=KEPT_AT)

    page = cast.client(cast.alma).get(f"/plan/{other.pk}/").content.decode()

    assert "This block is not in use yet" in page


def test_it_asks_the_database_twelve_times(
    cast: Cast, plan: models.PlanDocument, django_assert_num_queries: Any
) -> None:
    """The number of questions does not grow with the weeks or the people."""
    browser = cast.client(cast.alma)

    with django_assert_num_queries(12):
        browser.get(f"/plan/{plan.pk}/")


def test_it_takes_one_method(cast: Cast, plan: models.PlanDocument) -> None:
    """Any other way of asking is refused."""
    assert questions.refuses(cast, "POST", f"/plan/{plan.pk}/")


def test_signed_out_it_leads_to_the_door(cast: Cast, plan: models.PlanDocument) -> None:
    """Nobody sees it without signing in."""
    assert questions.sends_to_sign_in(cast, "GET", f"/plan/{plan.pk}/")


def test_a_stranger_learns_nothing(cast: Cast, plan: models.PlanDocument) -> None:
    """For another organisation the page does not exist."""
    assert questions.is_not_there_for_a_stranger(cast, "GET", f"/plan/{plan.pk}/")


def test_an_assistant_is_turned_away(cast: Cast, plan: models.PlanDocument) -> None:
    """This is the leader's."""
    assert questions.is_the_leaders(cast, "GET", f"/plan/{plan.pk}/")
