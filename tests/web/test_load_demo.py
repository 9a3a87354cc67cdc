from tests import questions
from tests.cast import Cast

from halewright.store import models
from halewright.usecases import demo

URL = "/demo/"


def test_every_demo_group_that_ships_can_be_loaded(cast: Cast) -> None:
    """Each demo becomes a group with its people."""
    browser = cast.client(cast.alma)

    for name in demo.names():
        answer = browser.post(URL, {"demo": name}, follow=True)
        assert answer.status_code == 200

    assert models.Group.objects.filter(organisation=cast.alma.organisation).count() == 1 + len(
        demo.names()
    )


def test_loading_it_twice_gives_one_group(cast: Cast) -> None:
    """A second time brings the same group up to date."""
    browser = cast.client(cast.alma)
    for _ in range(2):
        for name in demo.names()[:1]:
            browser.post(URL, {"demo": name})

    assert models.Group.objects.count() == 1 + len(demo.names()[:1])


def test_no_other_folder_can_be_named(cast: Cast) -> None:
    """Only what ships can be loaded, whatever is sent."""
    assert cast.client(cast.alma).post(URL, {"demo": "../../etc"}).status_code == 404


def test_it_takes_one_method(cast: Cast) -> None:
    """Any other way of asking is refused."""
    assert questions.refuses(cast, "GET", URL)


def test_signed_out_it_leads_to_the_door(cast: Cast) -> None:
    """Nobody sees it without signing in."""
    assert questions.sends_to_sign_in(cast, "POST", URL)


def test_an_assistant_is_turned_away(cast: Cast) -> None:
    """This is the leader's."""
    assert questions.is_the_leaders(cast, "POST", URL)
