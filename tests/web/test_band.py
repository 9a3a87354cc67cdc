from datetime import date

from tests import questions
from tests.cast import Cast
from tests.fakes import kit

from halewright.core.people.kit import BandCheck, CheckResult
from halewright.usecases import bands


def _url(cast: Cast) -> str:
    return f"/group/{cast.group.pk}/bands/{kit.band_id(cast)}/"


def test_it_shows_the_curve_and_says_how_far_it_holds(cast: Cast) -> None:
    """2.2 times is the last reading: the band is never used beyond it."""
    kit.measure(cast)

    page = cast.client(cast.alma).get(_url(cast)).content.decode()

    assert 'class="chart" role="img"' in page
    assert "Measured up to 2.20 times its slack length, and never used beyond" in page
    assert "Wear eye protection" in page


def test_too_few_readings_make_no_curve(cast: Cast) -> None:
    """Two readings are shown as they are, and no force is told."""
    page = cast.client(cast.alma).get(_url(cast)).content.decode()

    assert "too few for a curve" in page
    assert "One strand pulls" not in page


def test_a_retired_band_is_not_measured_again(cast: Cast) -> None:
    """What was found stays on the page; there is no way back into use."""
    torn = BandCheck(on=date(2026, 11, 3), by="Alma", result=CheckResult.RETIRED, fault="torn")
    bands.check(torn, group=cast.group, band_id=kit.band_id(cast))

    page = cast.client(cast.alma).get(_url(cast)).content.decode()

    assert "Alma: retired: torn" in page
    assert "/measure/" not in page


def test_a_band_that_is_not_in_the_bag_is_not_there(cast: Cast) -> None:
    """An unknown number gives no page."""
    url = f"/group/{cast.group.pk}/bands/9999/"

    assert cast.client(cast.alma).get(url).status_code == 404


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
