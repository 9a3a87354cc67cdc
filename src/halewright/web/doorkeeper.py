"""Slows down guessing at the door: after five refusals, five minutes' wait (common practice)."""

from hashlib import sha256

from django.core.cache import cache
from django.http import HttpRequest

from halewright.usecases import accounts

TRIES_COUNT = 5
WAIT_S = 300


def must_wait(request: HttpRequest, *, name: str) -> bool:
    """Return whether this name was refused too often from this address."""
    return int(cache.get(_key(request, name=name), 0)) >= TRIES_COUNT


def note_refusal(request: HttpRequest, *, name: str) -> None:
    """Count one more refusal."""
    key = _key(request, name=name)
    if not cache.add(key, 1, WAIT_S):
        cache.incr(key)


def forget(request: HttpRequest, *, name: str) -> None:
    """Begin anew after somebody was let in."""
    cache.delete(_key(request, name=name))


def _key(request: HttpRequest, *, name: str) -> str:
    text = f"{accounts.sign_in_name(name)}\n{request.META.get('REMOTE_ADDR', '')}"
    return "door-" + sha256(text.encode()).hexdigest()
