"""The questions that are asked of every address, in words that a test can say."""

from django.http import HttpResponseBase
from django.test import Client
from tests.cast import Cast

from halewright.store import models


def asked(cast: Cast, who: models.Member | None, method: str, url: str) -> HttpResponseBase:
    """Return the answer that somebody gets, without following it."""
    browser: Client = cast.client(who)
    answer: HttpResponseBase = browser.generic(method, url)
    return answer


def sends_to_sign_in(cast: Cast, method: str, url: str) -> bool:
    """Return whether somebody who is signed out is led to the door, and comes back after."""
    answer = asked(cast, None, method, url)
    return answer.status_code == 302 and answer["Location"].startswith("/sign-in/?next=/")


def is_not_there_for_a_stranger(cast: Cast, method: str, url: str) -> bool:
    """Return whether the leader of another organisation learns nothing, not even that it is."""
    return asked(cast, cast.cass, method, url).status_code == 404


def is_the_leaders(cast: Cast, method: str, url: str) -> bool:
    """Return whether an assistant is told that this is the leader's to do."""
    return asked(cast, cast.bram, method, url).status_code == 403


def refuses(cast: Cast, method: str, url: str) -> bool:
    """Return whether the address does not take this method, even from the leader."""
    return asked(cast, cast.alma, method, url).status_code == 405
