"""The hall screen's pages, as anyone in the hall gets them."""

import dataclasses
import re
from datetime import UTC, datetime
from enum import Enum
from pathlib import Path
from typing import Any

import pytest
from django.test import Client
from tests import stories
from tests.cast import KEPT_AT, Cast

from halewright.core.session.outline import Notice
from halewright.files import certificates
from halewright.usecases import blocks, groups_kept

PAGES = ("/hall/", "/hall/document.json", "/hall/worker.js", "/hall/trust/")
KEPT_KEYS = frozenset({"id", "movement", "person", "rule", "flag"})
"""Names of fields that other values refer to by their content."""


def _get(client: Client, address: str) -> tuple[int, bytes]:
    """Return the status and the body; static files are sent in pieces from an open file."""
    answer = client.get(address)
    try:
        return answer.status_code, b"".join(answer)
    finally:
        answer.close()


@pytest.mark.parametrize("page", PAGES)
def test_nobody_has_to_sign_in(cast: Cast, page: str) -> None:
    """A screen in a hall has no keyboard."""
    answer = cast.client(None).get(page)

    assert answer.status_code == 200
    assert "set-cookie" not in {name.lower() for name in answer.headers}


@pytest.mark.parametrize("page", PAGES)
def test_it_takes_reading_only(cast: Cast, page: str) -> None:
    """Any other way of asking is refused."""
    assert cast.client(None).post(page).status_code == 405


def test_the_page_needs_nothing_inline(cast: Cast) -> None:
    """No script and no style in the page: the policy would refuse them."""
    page = cast.client(None).get("/hall/").content.decode()

    assert re.search(r"<style|style=|\son[a-z]+=|<script(?![^>]*src=)", page) is None


def test_a_new_session_is_a_new_worker(cast: Cast, plan: Any) -> None:
    """The worker's text differs as soon as the document does, or screens would keep the old one."""
    client = cast.client(cast.alma)
    before = client.get("/hall/worker.js").content

    same = client.get("/hall/worker.js").content
    client.post(f"/plan/{plan.pk}/1/1/show/")

    assert same == before
    assert client.get("/hall/worker.js").content != before


def test_everything_the_worker_keeps_is_there(cast: Cast) -> None:
    """One address that cannot be fetched and nothing at all would be kept."""
    client = cast.client(None)
    worker = client.get("/hall/worker.js").content.decode()

    kept = re.findall(r'"(/[^"]+)"', worker.splitlines()[1])

    assert len(kept) > 10
    assert {address: _get(client, address)[0] for address in kept} == dict.fromkeys(kept, 200)


def test_the_page_asks_for_nothing_that_the_worker_does_not_keep(cast: Cast) -> None:
    """Every script, style, font and picture is in the worker's list."""
    client = cast.client(None)
    worker = client.get("/hall/worker.js").content.decode()
    kept = set(re.findall(r'"(/[^"]+)"', worker.splitlines()[1]))
    page = client.get("/hall/").content.decode()
    asked = set(re.findall(r'(?:src|href)="(/[^"]+)"', page))

    for address in sorted(kept):
        if address.endswith(".js") and "/hall/" in address:
            text = _get(client, address)[1].decode()
            asked |= {f"/static/web/hall/{name}" for name in re.findall(r'from "./([^"]+)"', text)}

    assert asked - kept == set()


def test_the_authority_is_offered_and_its_key_is_not(cast: Cast, tmp_path: Path) -> None:
    """Before a hall was served there is none; after that its certificate alone is sent."""
    client = cast.client(None)
    before = client.get("/hall/halewright-authority.crt").status_code
    made = certificates.ensure(
        folder=tmp_path / "tls", names=("localhost",), now=datetime(2026, 11, 25, tzinfo=UTC)
    )

    sent = client.get("/hall/halewright-authority.crt")

    assert (before, sent.status_code) == (404, 200)
    assert sent.content == made.certificate
    assert b"PRIVATE" not in sent.content
    assert made.fingerprint in client.get("/hall/trust/").content.decode()


class _Marker:
    """Fills free text with words that occur nowhere else, and remembers them."""

    def __init__(self) -> None:
        self.words: list[str] = []

    def mark(self, value: Any, *, name: str = "") -> Any:
        if isinstance(value, Enum) or name in KEPT_KEYS:
            return value
        if isinstance(value, str):
            self.words.append(f"Zz{len(self.words):04d}qx")
            return self.words[-1]
        if isinstance(value, tuple):
            return tuple(self.mark(each, name=name) for each in value)
        if dataclasses.is_dataclass(value) and not isinstance(value, type):
            changed = {
                field.name: self.mark(getattr(value, field.name), name=field.name)
                for field in dataclasses.fields(value)
            }
            return dataclasses.replace(value, **changed)
        return value


def test_no_personal_field_reaches_the_hall(cast: Cast) -> None:
    """Every text of the group and of the plan is a marker; none is found in the hall."""
    marker = _Marker()
    group = stories.four_chairs()
    plan = stories.plain_plan(group)
    marked_people = marker.mark(group.people, name="people")
    marked_plan = marker.mark(plan)
    venue = marker.mark(group.venue)
    group = dataclasses.replace(
        group, name=marker.mark(group.name), venue=venue, people=marked_people
    )
    sessions = tuple(
        dataclasses.replace(each, notices=(Notice(words=marker.mark("x"), person=None),))
        for each in marked_plan.sessions
    )
    kept = groups_kept.keep(group, organisation=cast.alma.organisation, by=cast.alma, at=KEPT_AT)
    row = blocks.keep(
        dataclasses.replace(marked_plan, sessions=sessions), group=kept, by=cast.alma, at=KEPT_AT
    )
    client = cast.client(cast.alma)
    client.post(f"/plan/{row.pk}/1/1/show/")

    shown = "".join(Client().get(page).content.decode() for page in PAGES)

    assert len(marker.words) > 40
    assert [word for word in marker.words if word in shown] == []
    assert [person.id for person in group.people if f'"{person.id}"' in shown] == []
    assert "Tonight’s session" in shown
