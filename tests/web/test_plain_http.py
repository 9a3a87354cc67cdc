import pytest
from tests.cast import Cast

from halewright.store import models

HALL = "192.168.1.20"


@pytest.mark.parametrize("page", ["", "1/1/", "1/1/run-sheet/", "1/1/emergency/", "breaches/"])
def test_personal_pages_are_refused_over_plain_http(
    cast: Cast, plan: models.PlanDocument, page: str
) -> None:
    """From another machine, without TLS, nothing personal is sent, and the refusal says why."""
    answer = cast.client(cast.alma).get(f"/plan/{plan.pk}/{page}", REMOTE_ADDR=HALL)

    assert answer.status_code == 403
    assert "This page is private" in answer.content.decode()
    assert "Ada" not in answer.content.decode()


def test_not_even_the_door_is_shown_in_the_clear(cast: Cast) -> None:
    """A password is never asked for over plain HTTP."""
    assert cast.client(None).get("/sign-in/", REMOTE_ADDR=HALL).status_code == 403


def test_over_tls_they_are_served(cast: Cast, plan: models.PlanDocument) -> None:
    """The same page is there over an encrypted connection."""
    answer = cast.client(cast.alma).get(f"/plan/{plan.pk}/", REMOTE_ADDR=HALL, secure=True)

    assert answer.status_code == 200


def test_a_header_is_not_believed(cast: Cast, plan: models.PlanDocument) -> None:
    """Claiming in a header to be secure, or to be this machine, changes nothing."""
    answer = cast.client(cast.alma).get(
        f"/plan/{plan.pk}/",
        REMOTE_ADDR=HALL,
        headers={"X-Forwarded-Proto": "https", "X-Forwarded-For": "127.0.0.1"},
    )

    assert answer.status_code == 403


def test_the_hall_screen_is_served_in_the_clear(cast: Cast) -> None:
    """The hall screen holds nothing about anybody."""
    assert cast.client(None).get("/hall/", REMOTE_ADDR=HALL).status_code == 200


def test_every_page_forbids_what_is_not_ours(cast: Cast) -> None:
    """Nothing inline, nothing from elsewhere, nothing kept by the browser."""
    answer = cast.client(cast.alma).get("/")

    policy = answer["Content-Security-Policy"]
    assert "script-src 'self'" in policy
    assert "style-src 'self'" in policy
    assert "unsafe" not in policy
    assert answer["Cache-Control"] == "no-store"
    assert answer["X-Frame-Options"] == "DENY"


def test_a_page_that_is_not_there_says_so(cast: Cast) -> None:
    """An unknown address gets a plain page."""
    answer = cast.client(cast.alma).get("/nowhere/")

    assert answer.status_code == 404
    assert "There is no such page here" in answer.content.decode()
