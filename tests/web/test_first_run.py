import pytest
from django.contrib.auth.models import User
from django.test import Client
from tests.cast import PASSWORD, Cast

from halewright.store import models

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("site")]
SENT = {"name": "Alma  Reyes", "organisation": "Harbour Hall", "password": PASSWORD}


def test_it_makes_the_leader_and_signs_them_in() -> None:
    """The first person becomes the leader and stands before an empty list of groups."""
    browser = Client()

    answer = browser.post("/begin/", SENT, follow=True)

    member = models.Member.objects.get()
    assert (member.name, member.role) == ("Alma Reyes", "leader")
    assert answer.redirect_chain == [("/", 302)]
    assert "Bring in your first group" in answer.content.decode()


def test_the_door_leads_here_while_there_is_nobody() -> None:
    """Whatever page is asked for first, it ends at the first run."""
    answer = Client().get("/", follow=True)

    assert answer.redirect_chain[-1] == ("/begin/", 302)


def test_it_happens_once(cast: Cast) -> None:
    """A second first run makes nobody."""
    answer = cast.client(None).post("/begin/", SENT | {"name": "Mallory"})

    assert answer.status_code == 302
    assert answer["Location"] == "/sign-in/"
    assert not User.objects.filter(username="mallory").exists()


def test_a_short_password_is_refused_in_words() -> None:
    """Twelve characters are the least, and what was typed is kept, except the password."""
    answer = Client().post("/begin/", SENT | {"password": "short"})

    page = answer.content.decode()
    assert answer.status_code == 422
    assert "at least 12 characters" in page
    assert "Alma  Reyes" in page
    assert not models.Member.objects.exists()


def test_every_reason_is_told_at_once() -> None:
    """A missing name and a common password are told together."""
    answer = Client().post("/begin/", {"name": " ", "password": "123456789012"})

    page = answer.content.decode()
    assert "Give a name" in page
    assert "entirely numeric" in page


def test_only_the_computer_itself_can_begin() -> None:
    """Somebody in the hall cannot become the leader of a fresh installation, even over TLS."""
    answer = Client().post("/begin/", SENT, REMOTE_ADDR="192.168.1.20", secure=True)

    assert answer.status_code == 403
    assert "Begin at the computer itself" in answer.content.decode()
    assert not models.Member.objects.exists()


def test_it_takes_no_other_method() -> None:
    """Any other way of asking is refused."""
    assert Client().delete("/begin/").status_code == 405
