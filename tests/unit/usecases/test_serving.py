"""Serving the hall: what the plain listener answers, and what the leader is told."""

from collections.abc import Callable, Iterable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from halewright.files import certificates
from halewright.usecases import serving

NOW = datetime(2026, 11, 25, 9, 0, tzinfo=UTC)


def _everything(_environ: dict[str, Any], start: Callable[..., Any]) -> Iterable[bytes]:
    start("200 OK", [])
    return [b"Ada, pacemaker"]


def _ask(path: str, *, host: str = "192.168.1.20:8080") -> tuple[str, str]:
    statuses: list[str] = []
    body = serving.only_hall(_everything, secure_port=8443)(
        {"PATH_INFO": path, "HTTP_HOST": host}, lambda status, _heads: statuses.append(status)
    )
    return statuses[0], b"".join(body).decode()


@pytest.mark.parametrize("path", ["/hall/", "/hall/document.json", "/static/web/hall/main.js"])
def test_the_hall_screen_is_answered_in_the_clear(path: str) -> None:
    """It has nothing about anybody."""
    assert _ask(path)[0] == "200 OK"


@pytest.mark.parametrize(
    "path", ["/", "/group/1/", "/sign-in/", "/hallo/", "/hall", "/admin/", "/plan/1/1/1/show/"]
)
def test_everything_else_is_refused_in_plain_words(path: str) -> None:
    """The refusal says why, and where to go instead."""
    status, body = _ask(path)

    assert status == "403 Forbidden"
    assert "https://192.168.1.20:8443/" in body
    assert "pacemaker" not in body


def test_a_made_up_host_is_not_repeated() -> None:
    """What the asker sends as host is not written into the page."""
    assert "script" not in _ask("/", host="<script>:80")[1]


def test_the_leader_is_told_addresses_fingerprint_and_how_to_trust(tmp_path: Path) -> None:
    """In plain sentences, with nothing else to look up."""
    access = serving.HallAccess(
        names=("localhost", "127.0.0.1", "laptop.local", "192.168.1.20"),
        port=8443,
        plain_port=8080,
        authority=certificates.ensure(folder=tmp_path, names=("localhost",), now=NOW),
    )

    words = access.words()

    assert "https://localhost:8443/" in words
    assert "https://192.168.1.20:8443/hall/" in words
    assert "http://laptop.local:8080/hall/trust/" in words
    assert access.authority.fingerprint in words
    assert "https://127.0.0.1" not in words


def test_this_machine_has_names_that_its_authority_may_vouch_for() -> None:
    """Whatever network we are on, loopback is among them and nothing public is."""
    names = serving.local_names()

    assert names[:2] == ("localhost", "127.0.0.1")
    assert all(certificates.is_local(name) for name in names)
