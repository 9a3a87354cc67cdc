from django.test import Client
from tests.cast import PASSWORD, Cast


def test_capitals_and_spaces_do_not_matter(cast: Cast) -> None:
    """A leader signs in with the name as people know it."""
    answer = cast.client(None).post(
        "/sign-in/", {"name": " alma  REYES ", "password": PASSWORD, "next": "/group/1/"}
    )

    assert answer.status_code == 302
    assert answer["Location"] == "/group/1/"


def test_it_leads_to_no_other_site(cast: Cast) -> None:
    """A link cannot use the door to send somebody elsewhere."""
    sent = {"name": "Alma Reyes", "password": PASSWORD, "next": "https://elsewhere.example/"}

    answer = cast.client(None).post("/sign-in/", sent)

    assert answer["Location"] == "/"


def test_a_wrong_password_is_refused_without_saying_which(cast: Cast) -> None:
    """The answer is the same for a wrong password and for an unknown name."""
    pages = [
        cast.client(None).post("/sign-in/", {"name": name, "password": "no"})
        for name in ("Alma Reyes", "Nobody")
    ]

    assert [page.status_code for page in pages] == [422, 422]
    assert all(b"do not belong together" in page.content for page in pages)


def test_guessing_is_slowed_down(cast: Cast) -> None:
    """After five refusals even the right password has to wait."""
    browser = cast.client(None)
    for _ in range(5):
        browser.post("/sign-in/", {"name": "Bram Osei", "password": "no"})

    answer = browser.post("/sign-in/", {"name": "Bram Osei", "password": PASSWORD})

    assert answer.status_code == 429
    assert b"Wait five minutes" in answer.content


def test_it_takes_no_other_method(cast: Cast) -> None:
    """Any other way of asking is refused."""
    assert cast.client(None).delete("/sign-in/").status_code == 405


def test_a_form_without_its_token_is_refused_in_words(cast: Cast) -> None:
    """A form from another site, or a stale one, saves nothing and says so."""
    assert cast.alma.pk
    browser = Client(enforce_csrf_checks=True)

    answer = browser.post("/sign-in/", {"name": "Alma Reyes", "password": PASSWORD})

    assert answer.status_code == 403
    assert b"Please send that again" in answer.content
