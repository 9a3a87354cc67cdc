"""Takes the README's pictures: the demo group, planned and served, in a real browser."""

import os
import socket
import subprocess
import sys
import tempfile
import time
import urllib.request
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

ROOT = Path(__file__).resolve().parents[1]
PICTURES = ROOT / "docs" / "pictures"
HALEWRIGHT = ROOT / ".venv" / "bin" / "halewright"
BROWSER = ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking"]
SESSION = "/plan/1/3/1/"
STATION = "Station 7"
LAPTOP = {"width": 1366, "height": 768}
TALL = {"width": 1100, "height": 1240}
PHONE = {"width": 390, "height": 844}
BIG = {"width": 1920, "height": 1080}


def main() -> None:
    """Plan, serve, look, and write the pictures."""
    PICTURES.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as home, socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
        probe.close()
        environment = {**os.environ, "HALEWRIGHT_HOME": home}
        subprocess.run([HALEWRIGHT, "run", "--no-serve"], env=environment, check=True)  # noqa: S603  ours
        served = subprocess.Popen(  # noqa: S603  our own programme
            [HALEWRIGHT, "serve", "--port", str(port)], env=environment
        )
        try:
            _wait(f"http://localhost:{port}/hall/")
            _look(f"http://localhost:{port}")
        finally:
            served.terminate()


def _wait(address: str) -> None:
    for _ in range(300):
        try:
            urllib.request.urlopen(address, timeout=5).close()  # noqa: S310  this machine
        except OSError:
            time.sleep(0.1)
        else:
            return
    sys.exit("The server did not answer.")


def _look(base: str) -> None:
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=BROWSER)
        page = browser.new_context(base_url=base, viewport=LAPTOP).new_page()
        page.goto("/")
        page.get_by_label("Your name").fill("Priya")
        page.get_by_label("Password").fill("four unrelated words here")
        page.get_by_role("button", name="Begin").click()
        for name, address in (
            ("groups", "/"),
            ("group", "/group/1/"),
            ("block", "/group/1/block/"),
            ("people", "/group/1/people/"),
            ("run-sheet", f"{SESSION}run-sheet/"),
            ("class-sheet", f"{SESSION}bands/"),
            ("load-card", "/group/1/people/m02/load/seated-row/standard/"),
            ("band", "/group/1/bands/1/"),
        ):
            page.goto(address)
            _take(page, name)
        page.goto(f"{SESSION}run-sheet/")
        page.set_viewport_size(TALL)
        page.screenshot(path=PICTURES / "run-sheet-leader.png")
        page.set_viewport_size(LAPTOP)
        _hall(page)
        browser.close()


def _take(page: Page, name: str) -> None:
    for suffix, size in (("", LAPTOP), ("-phone", PHONE)):
        page.set_viewport_size(size)
        page.screenshot(path=PICTURES / f"{name}{suffix}.png")
    page.set_viewport_size(LAPTOP)


def _hall(page: Page) -> None:
    page.goto(SESSION)
    page.get_by_role("button", name="Hall screen").first.click()
    page.wait_for_url("**/hall/")
    page.set_viewport_size(BIG)
    page.reload()
    page.get_by_role("button", name="Start").wait_for()
    for _ in range(40):
        page.keyboard.press("ArrowRight")
        time.sleep(0.15)
        shown = page.inner_text("body")
        if STATION in shown and "Change over" not in shown:
            break
    page.get_by_role("button", name="Start").click()
    time.sleep(4)
    for suffix, size in (("", BIG), ("-laptop", LAPTOP), ("-phone", PHONE)):
        page.set_viewport_size(size)
        time.sleep(0.5)
        page.screenshot(path=PICTURES / f"hall-screen{suffix}.png")


if __name__ == "__main__":
    main()
