from tests import questions, stories
from tests.cast import KEPT_AT, Cast

from halewright.store import models, queries
from halewright.usecases import blocks


def test_it_makes_the_plan_the_current_one(cast: Cast, plan: models.PlanDocument) -> None:
    """The newest plan that was put to use is current; the earlier one is kept."""
    value = stories.plain_plan(stories.four_chairs(), seed=2)
    other = blocks.keep(value, group=cast.group, by=cast.alma, at=KEPT_AT)

    cast.client(cast.alma).post(f"/plan/{other.pk}/use/")

    assert queries.current_plan(cast.group) == other
    assert models.PlanDocument.objects.filter(pk=plan.pk).exists()


def test_twice_is_the_same(cast: Cast, plan: models.PlanDocument) -> None:
    """Using it again does no harm."""
    browser = cast.client(cast.alma)
    for _ in range(2):
        browser.post(f"/plan/{plan.pk}/use/")

    assert queries.current_plan(cast.group) == plan


def test_it_takes_one_method(cast: Cast, plan: models.PlanDocument) -> None:
    """Any other way of asking is refused."""
    assert questions.refuses(cast, "GET", f"/plan/{plan.pk}/use/")


def test_signed_out_it_leads_to_the_door(cast: Cast, plan: models.PlanDocument) -> None:
    """Nobody sees it without signing in."""
    assert questions.sends_to_sign_in(cast, "POST", f"/plan/{plan.pk}/use/")


def test_a_stranger_learns_nothing(cast: Cast, plan: models.PlanDocument) -> None:
    """For another organisation the page does not exist."""
    assert questions.is_not_there_for_a_stranger(cast, "POST", f"/plan/{plan.pk}/use/")


def test_an_assistant_is_turned_away(cast: Cast, plan: models.PlanDocument) -> None:
    """This is the leader's."""
    assert questions.is_the_leaders(cast, "POST", f"/plan/{plan.pk}/use/")
