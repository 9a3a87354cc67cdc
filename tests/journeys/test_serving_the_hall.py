"""Serving a hall for real: two listeners, one authority, nothing personal in the clear."""

import os
import re
import ssl
import stat
import subprocess
import sys
import time
import urllib.error
import urllib.request
import warnings
from base64 import b64encode
from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import serialization
from tests.journeys.conftest import BROWSER_ARGUMENTS, chromium_path, free_port

from halewright.usecases import serving

pytestmark = pytest.mark.journey

_SERVE = """
import sys
from datetime import UTC, datetime
from pathlib import Path
from halewright.usecases import serving
serving.serve_hall(home=Path(sys.argv[1]), say=lambda words: print(words, flush=True),
    now=datetime.now(tz=UTC), port=int(sys.argv[2]), plain_port=int(sys.argv[3]))
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hall:
    """A hall that is being served."""

    home: Path
    port: int
    plain_port: int
    said: str

    def trusting(self) -> ssl.SSLContext:
        """A device that trusts the authority and nothing else."""
        return ssl.create_default_context(cafile=str(self.home / "tls" / "authority.crt"))


@pytest.fixture(scope="module")
def hall(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Hall]:
    """Serve a hall in a process of its own."""
    home, port, plain_port = tmp_path_factory.mktemp("hall"), free_port(), free_port()
    environment = {**os.environ, "HALEWRIGHT_HOME": str(home)}
    environment.pop("DJANGO_SETTINGS_MODULE", None)
    with subprocess.Popen(  # noqa: S603  our own programme
        [sys.executable, "-c", _SERVE, str(home), str(port), str(plain_port)],
        env=environment,
        stdout=subprocess.PIPE,
        text=True,
    ) as process:
        assert process.stdout is not None
        said = ""
        while "Ctrl and C" not in said:
            line = process.stdout.readline()
            assert line, said
            said += line
        time.sleep(1)
        yield Hall(home=home, port=port, plain_port=plain_port, said=said)
        process.kill()


def _ask(url: str, *, context: ssl.SSLContext | None = None) -> tuple[int, str]:
    try:
        with urllib.request.urlopen(url, context=context, timeout=10) as answer:  # noqa: S310
            return answer.status, answer.read().decode()
    except urllib.error.HTTPError as error:
        with error:
            return error.code, error.read().decode()


def test_a_device_that_trusts_the_authority_is_served(hall: Hall) -> None:
    """By name and by every address of the machine that the certificate holds."""
    names = [name for name in serving.local_names() if not name.endswith(".local")]

    told = {
        name: _ask(f"https://{name}:{hall.port}/hall/", context=hall.trusting())[0]
        for name in names
    }

    assert told == dict.fromkeys(names, 200)


def test_a_device_that_does_not_trust_it_sees_nothing(hall: Hall) -> None:
    """Without the authority the connection is not made."""
    with pytest.raises(urllib.error.URLError, match="CERTIFICATE_VERIFY_FAILED"):
        _ask(f"https://localhost:{hall.port}/hall/", context=ssl.create_default_context())


@pytest.mark.parametrize("path", ["hall/", "hall/document.json", "hall/worker.js", "hall/trust/"])
def test_the_hall_screen_is_served_in_the_clear(hall: Hall, path: str) -> None:
    """A screen that cannot be told to trust anything still plays the session."""
    assert _ask(f"http://127.0.0.1:{hall.plain_port}/{path}")[0] == 200


@pytest.mark.parametrize("path", ["", "sign-in/", "begin/", "group/1/", "plan/1/1/1/"])
def test_personal_pages_are_refused_in_the_clear(hall: Hall, path: str) -> None:
    """Even for this machine, and in plain words."""
    status, body = _ask(f"http://127.0.0.1:{hall.plain_port}/{path}")

    assert status == 403
    assert "This page is not shown over plain HTTP" in body


def test_the_certificate_can_be_fetched_before_anything_is_trusted(hall: Hall) -> None:
    """It is the same that the leader's fingerprint belongs to."""
    body = _ask(f"http://127.0.0.1:{hall.plain_port}/hall/halewright-authority.crt")[1]

    fingerprint = re.search(r"(?:[0-9A-F]{2}:){31}[0-9A-F]{2}", hall.said)
    assert body == (hall.home / "tls" / "authority.crt").read_text()
    assert fingerprint is not None
    assert fingerprint[0] in _ask(f"http://127.0.0.1:{hall.plain_port}/hall/trust/")[1]


def test_keys_stay_private(hall: Hall) -> None:
    """Only the owner of the folder can read them, and no page sends them."""
    key = hall.home / "tls" / "authority.key"

    assert stat.S_IMODE(key.stat().st_mode) == 0o600
    assert _ask(f"http://127.0.0.1:{hall.plain_port}/hall/authority.key")[0] == 404


def test_old_protocols_are_refused(hall: Hall) -> None:
    """TLS 1.2 and later only (RFC 8996)."""
    context = hall.trusting()
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)  # the point is that they are old
        context.minimum_version = ssl.TLSVersion.TLSv1
        context.maximum_version = ssl.TLSVersion.TLSv1_1

    with pytest.raises((urllib.error.URLError, ConnectionError)):
        _ask(f"https://localhost:{hall.port}/hall/", context=context)


def test_over_tls_the_screen_is_kept_on_a_device_in_the_hall(hall: Hall, browser: Any) -> None:
    """From the network's address, with the server's key trusted, the whole screen is kept."""
    away = [name for name in serving.local_names() if name[0].isdigit() and name != "127.0.0.1"]
    if not away:
        pytest.skip("This machine has no address on a local network.")
    # Chromium keeps its own store of authorities; here it is told the server's key by its digest.
    trusting = browser.browser_type.launch(
        executable_path=chromium_path(),
        args=[*BROWSER_ARGUMENTS, f"--ignore-certificate-errors-spki-list={_key_digest(hall)}"],
    )
    page = trusting.new_page()

    page.goto(f"https://{away[0]}:{hall.port}/hall/")
    page.locator("#device", has_text="Complete on this device").wait_for(timeout=20_000)
    trusting.close()


def test_in_the_clear_the_screen_plays_and_says_what_it_lacks(hall: Hall, browser: Any) -> None:
    """Without TLS a browser keeps nothing, so the page does not claim to be complete."""
    away = [name for name in serving.local_names() if name[0].isdigit() and name != "127.0.0.1"]
    if not away:
        pytest.skip("This machine has no address on a local network.")
    page = browser.new_context().new_page()

    page.goto(f"http://{away[0]}:{hall.plain_port}/hall/")
    page.locator("body[data-loaded=yes]").wait_for()
    page.keyboard.press("Space")

    page.locator("body[data-state=running]").wait_for()
    assert "open the https address" in page.inner_text("#device")
    page.context.close()


def _key_digest(hall: Hall) -> str:
    certificate = x509.load_pem_x509_certificate((hall.home / "tls" / "server.crt").read_bytes())
    key = certificate.public_key().public_bytes(
        serialization.Encoding.DER, serialization.PublicFormat.SubjectPublicKeyInfo
    )
    return b64encode(sha256(key).digest()).decode()
