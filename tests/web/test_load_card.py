from tests import questions
from tests.cast import Cast
from tests.fakes import kit

from halewright.store import queries


def _url(cast: Cast, key: str = "ada", movement: str = "pull-apart/standard") -> str:
    return f"/group/{cast.group.pk}/people/{key}/load/{movement}/"


def test_it_tells_grip_tension_and_net_joint_moments(cast: Cast) -> None:
    """The best band, its grip, a curve through the range, and moments that name no muscle."""
    kit.measure(cast)

    page = cast.client(cast.alma).get(_url(cast)).content.decode()

    assert "With thin" in page
    assert "Tension of the band from the start to the far end" in page
    assert "Net joint moments, working side" in page
    assert "muscle force" not in page
    assert "Before anybody pulls" in page


def test_a_shorter_grip_is_a_stronger_pull(cast: Cast) -> None:
    """What the leader types is worked out, and every step that cannot be held is said."""
    kit.measure(cast)
    browser = cast.client(cast.alma)

    long = browser.get(_url(cast), {"grip": "80"}).content.decode()
    short = browser.get(_url(cast), {"grip": "55"}).content.decode()

    assert "80 cm" in long
    assert "55 cm" in short
    assert long.count("light") > short.count("light")


def test_what_would_change_it_is_told(cast: Cast) -> None:
    """Grip, stature and the chair each have their row."""
    kit.measure(cast)

    page = cast.client(cast.alma).get(_url(cast), {"grip": "70"}).content.decode()

    for words in (
        "Gripped 3 cm shorter",
        "Gripped 3 cm longer",
        "A person 10 cm taller",
        "A chair 5 cm higher",
    ):
        assert words in page


def test_without_a_height_nothing_is_guessed(cast: Cast) -> None:
    """Ben's height is missing: the page says so."""
    kit.measure(cast)

    page = cast.client(cast.alma).get(_url(cast, "ben")).content.decode()

    assert "Nobody has recorded this person’s height" in page


def test_without_a_measured_band_it_says_what_to_do(cast: Cast) -> None:
    """No band in the bag has been measured yet."""
    assert len(queries.whole(cast.group).bands[0].points) == 2

    assert "No measured band in the bag" in cast.client(cast.alma).get(_url(cast)).content.decode()


def test_what_has_no_band_has_no_card(cast: Cast) -> None:
    """Unknown people, movements and ways, and ways without a band, are not there."""
    browser = cast.client(cast.alma)

    for url in (
        _url(cast, "zoe"),
        _url(cast, movement="no-such/standard"),
        _url(cast, movement="pull-apart/sideways"),
        _url(cast, movement="brace-hold/standard"),
    ):
        assert browser.get(url).status_code == 404


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
