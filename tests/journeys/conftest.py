"""A real server in its own process, and a real browser, for journeys through the pages."""

import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest

BROWSER_ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
_SERVE = """
import sys
from pathlib import Path
from halewright.usecases import serving
serving.serve_here(home=Path(sys.argv[1]), port=int(sys.argv[2]), say=print)
"""


@dataclass
class Served:
    """One server that a test may stop without warning and start again, on the same port."""

    home: Path
    port: int
    process: subprocess.Popen[bytes] | None = field(default=None)

    @property
    def base(self) -> str:
        """The address of the server."""
        return f"http://localhost:{self.port}"

    def start(self) -> None:
        """Start it and wait until it answers."""
        environment = {**os.environ, "HALEWRIGHT_HOME": str(self.home)}
        environment.pop("DJANGO_SETTINGS_MODULE", None)
        self.process = subprocess.Popen(  # noqa: S603  our own programme
            [sys.executable, "-c", _SERVE, str(self.home), str(self.port)],
            env=environment,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
        )
        for _ in range(300):
            if self.process.poll() is not None and self.process.stderr:
                pytest.fail(self.process.stderr.read().decode()[-2000:])
            try:
                urllib.request.urlopen(f"{self.base}/hall/", timeout=5).close()  # noqa: S310
            except OSError:
                time.sleep(0.1)
            else:
                return
        pytest.fail("The server did not answer within half a minute.")

    def kill(self) -> None:
        """End it without warning, as a power cut would."""
        if self.process is not None:
            self.process.kill()
            self.process.wait()
            if self.process.stderr:
                self.process.stderr.close()
            self.process = None


def free_port() -> int:
    """Return a port that nobody uses at this moment."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def chromium_path() -> str | None:
    """Return where Chromium is on this machine, or None."""
    return shutil.which("chromium") or shutil.which("chromium-browser")


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Served]:
    """A server of its own for a test that kills it."""
    server = Served(home=tmp_path, port=free_port())
    server.start()
    yield server
    server.kill()


@pytest.fixture(scope="session")
def sample_server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """One server for all tests that only look; it shows the sample session."""
    server = Served(home=tmp_path_factory.mktemp("home"), port=free_port())
    server.start()
    yield server
    server.kill()


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    """Chromium, or a skip that says what is missing."""
    path = chromium_path()
    if path is None:
        pytest.skip("No Chromium on this machine: install the package “chromium”.")
    sync_api = pytest.importorskip("playwright.sync_api")
    with sync_api.sync_playwright() as tools:
        chromium = tools.chromium.launch(executable_path=path, args=BROWSER_ARGUMENTS)
        yield chromium
        chromium.close()


@pytest.fixture
def page(browser: Any) -> Iterator[Any]:
    """A page in a browser that has seen nothing yet; any error on it fails the test."""
    context = browser.new_context(viewport={"width": 1920, "height": 1080})
    opened = context.new_page()
    errors: list[str] = []
    opened.on("pageerror", lambda error: errors.append(str(error)))
    yield opened
    context.close()
    assert errors == []
