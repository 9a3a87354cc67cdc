from django.core.files.uploadedfile import SimpleUploadedFile
from tests import questions
from tests.cast import Cast

from halewright.store import models

LIST = b"id,name\nedi,Edi\nada,Ada Grace\n"


def _url(cast: Cast) -> str:
    return f"/group/{cast.group.pk}/bring-in/"


def _names(cast: Cast) -> list[str]:
    rows = models.Participant.objects.filter(group=cast.group, left_on__isnull=True)
    return sorted(rows.values_list("preferred_name", flat=True))


def test_people_are_added_and_brought_up_to_date(cast: Cast) -> None:
    """Somebody new is added, somebody known is renamed, nobody is taken out."""
    sent = {"file": SimpleUploadedFile("people.csv", LIST)}

    answer = cast.client(cast.alma).post(_url(cast), sent, follow=True)

    assert "2 people brought in" in answer.content.decode()
    assert _names(cast) == ["Ada Grace", "Ben", "Con", "Dot", "Edi"]


def test_a_bad_list_changes_nobody(cast: Cast) -> None:
    """Every problem stands in a table, and nothing is saved."""
    sent = {"file": SimpleUploadedFile("people.csv", b"id,name\nx,\nx,\n")}

    answer = cast.client(cast.alma).post(_url(cast), sent)

    assert answer.status_code == 422
    assert "Nothing was saved" in answer.content.decode()
    assert _names(cast) == ["Ada", "Ben", "Con", "Dot"]


def test_twice_is_the_same_list(cast: Cast) -> None:
    """Sending the same list again adds nobody."""
    for _ in range(2):
        cast.client(cast.alma).post(_url(cast), {"file": SimpleUploadedFile("people.csv", LIST)})

    assert len(_names(cast)) == 5


def test_it_takes_one_method(cast: Cast) -> None:
    """Any other way of asking is refused."""
    assert questions.refuses(cast, "GET", _url(cast))


def test_signed_out_it_leads_to_the_door(cast: Cast) -> None:
    """Nobody sees it without signing in."""
    assert questions.sends_to_sign_in(cast, "POST", _url(cast))


def test_a_stranger_learns_nothing(cast: Cast) -> None:
    """For another organisation the page does not exist."""
    assert questions.is_not_there_for_a_stranger(cast, "POST", _url(cast))


def test_an_assistant_is_turned_away(cast: Cast) -> None:
    """This is the leader's."""
    assert questions.is_the_leaders(cast, "POST", _url(cast))
