from tests import questions
from tests.cast import Cast
from tests.fakes import kit


def _url(cast: Cast) -> str:
    return f"/group/{cast.group.pk}/bands/{kit.band_id(cast)}/measure/"


def test_it_leads_through_measuring_with_the_cautions_first(cast: Cast) -> None:
    """The cautions stand before the first field, and the limit beside the lengths."""
    page = cast.client(cast.alma).get(_url(cast)).content.decode()

    assert page.index("Wear eye protection") < page.index('name="slack"')
    assert "Stretch no further than 3 times the slack length." in page
    assert page.count('name="out-length-') == 10


def test_everything_can_be_typed_without_a_script(cast: Cast) -> None:
    """The live curve is hidden until a script shows it; the form is a plain form."""
    page = cast.client(cast.alma).get(_url(cast)).content.decode()

    assert 'id="live" class="live" hidden' in page
    assert f'action="{_url(cast)}keep/"' in page


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
