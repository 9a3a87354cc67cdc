from tests import questions
from tests.cast import Cast


def test_it_forgets_who_it_was(cast: Cast) -> None:
    """After signing out the groups are closed again."""
    browser = cast.client(cast.alma)

    browser.post("/sign-out/")

    assert browser.get("/").status_code == 302


def test_it_takes_one_method(cast: Cast) -> None:
    """A link cannot sign anybody out."""
    assert questions.refuses(cast, "GET", "/sign-out/")


def test_twice_is_the_door_again(cast: Cast) -> None:
    """Signing out twice does no harm."""
    browser = cast.client(cast.alma)
    browser.post("/sign-out/")

    assert browser.post("/sign-out/").status_code == 302
