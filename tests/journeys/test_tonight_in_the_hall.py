"""From a folder of files to a session that plays on without its server, in a real browser."""

import os
import subprocess
import sys
import time
from collections.abc import Iterator
from importlib import resources
from pathlib import Path
from typing import Any

import pytest
from tests.cast import PASSWORD
from tests.journeys.conftest import free_port

pytestmark = pytest.mark.journey

DEMO = "marlow-street-hall"
PLANNED_MS = 240_000
DRAWN_MS = 120_000
"""Far more than the real planner and the drawing of figures need, on a machine with other work."""


class Site:
    """The whole site with its real planner, in a process that can be killed."""

    def __init__(self, home: Path) -> None:
        self.port = free_port()
        self.process = subprocess.Popen(  # noqa: S603  our own interpreter
            [sys.executable, "-m", "tests.fakes.site", str(self.port), "halewright.web.settings"],
            cwd=Path(__file__).parents[2],
            env={**os.environ, "HALEWRIGHT_HOME": str(home)},
            stdout=subprocess.PIPE,
            text=True,
        )
        assert self.process.stdout is not None
        assert self.process.stdout.readline().strip() == "ready"

    def kill(self) -> None:
        """End it without warning."""
        self.process.kill()
        self.process.wait()
        if self.process.stdout is not None:
            self.process.stdout.close()


@pytest.fixture
def site(tmp_path: Path) -> Iterator[Site]:
    """A site with an empty home."""
    served = Site(tmp_path)
    yield served
    served.kill()


def _work(page: Any) -> bool:
    return bool(page.locator("body[data-kind=work]").count())


def _gone_s(page: Any) -> int:
    minutes, seconds = page.inner_text("#gone").split(" of ")[0].split(":")
    return int(minutes) * 60 + int(seconds)


def test_import_plan_and_run_three_stations_over_a_dead_server(page: Any, site: Site) -> None:
    """Files in, block planned, session on the screen; then the server dies and the page reloads."""
    base = f"http://localhost:{site.port}"
    page.goto(base)
    page.fill("#name", "Alma Reyes")
    page.fill("#organisation", "Harbour Hall")
    page.fill("#password", PASSWORD)
    page.keyboard.press("Enter")
    page.get_by_role("heading", name="Bring in your first group").wait_for()
    folder = Path(str(resources.files("halewright") / "data" / "demo" / DEMO))
    files = [file for file in folder.rglob("*") if file.is_file()]
    page.set_input_files("#files", [str(file) for file in files])
    page.get_by_role("button", name="Bring it in").click()
    page.get_by_role("button", name="Plan the block").click()
    page.get_by_role("heading", name="The block", exact=True).wait_for(timeout=PLANNED_MS)
    page.goto(f"{base}/plan/1/2/1/")
    page.get_by_role("button", name="Hall screen").click(timeout=DRAWN_MS)
    page.locator("#device", has_text="Complete on this device").wait_for(timeout=DRAWN_MS)
    assert page.inner_text("#title") == "Tonight’s session"

    page.keyboard.press("Space")
    stations: list[str] = []
    for _ in range(60):
        if _work(page) and page.inner_text("#place") not in stations:
            stations.append(page.inner_text("#place"))
            if len(stations) == 2:
                _lose_server_and_page(page, site)
        if len(stations) == 3:
            break
        page.keyboard.press("ArrowRight")
        page.wait_for_timeout(60)

    assert [place.split(" · ")[1].split(" of ")[0] for place in stations] == [
        "Station 1",
        "Station 2",
        "Station 3",
    ]


def _lose_server_and_page(page: Any, site: Site) -> None:
    """Kill the server in mid-interval and reload; the place is right to a second."""
    page.wait_for_timeout(2_000)
    name, before, at = page.inner_text("#name"), _gone_s(page), time.monotonic()
    site.kill()
    page.reload()
    page.locator("body[data-loaded=yes][data-state=running]").wait_for()
    page.wait_for_timeout(1_000)
    assert page.inner_text("#name") == name
    assert abs(_gone_s(page) - before - (time.monotonic() - at)) <= 1.0
