"""A leader at the kitchen table: from nothing to tonight's papers, in a real browser."""

import os
import re
import socket
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect
from tests.cast import PASSWORD

pytestmark = pytest.mark.journey

LAPTOP = {"width": 1366, "height": 768}
PHONE = {"width": 390, "height": 844}
TWICE_AS_LARGE = {"width": 683, "height": 384}
"""The laptop at 200 % zoom has half as many CSS pixels each way."""


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The real pages on a free port, with an empty home."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    home = tmp_path_factory.mktemp("home")
    root = Path(__file__).parents[2]
    with subprocess.Popen(  # noqa: S603  our own interpreter
        [sys.executable, "-m", "tests.fakes.site", str(port)],
        cwd=root,
        env={**os.environ, "HALEWRIGHT_HOME": str(home)},
        stdout=subprocess.PIPE,
        text=True,
    ) as server:
        assert server.stdout is not None
        assert server.stdout.readline().strip() == "ready"
        yield f"http://127.0.0.1:{port}"
        server.terminate()


@pytest.fixture(scope="module")
def page(address: str, browser: Browser) -> Page:
    """One window for the whole journey; a message in its console fails the journey."""
    window = browser.new_context(base_url=address, viewport=LAPTOP).new_page()  # type: ignore[arg-type]
    window.on("pageerror", lambda error: pytest.fail(f"script: {error}"))
    return window


def _look_well(page: Page) -> None:
    """Hold the page against axe, and against a phone and twice the size."""
    violations = Axe().run(page).response["violations"]
    assert [(each["id"], each["nodes"][0]["html"]) for each in violations] == []
    for size in (PHONE, TWICE_AS_LARGE):
        page.set_viewport_size(size)  # type: ignore[arg-type]
        width = page.evaluate("document.documentElement.scrollWidth")
        assert width <= size["width"], f"{page.url} is {width} wide on {size['width']}"
    page.set_viewport_size(LAPTOP)  # type: ignore[arg-type]


def test_the_first_leader_begins_by_keyboard_alone(page: Page) -> None:
    """The first page makes the leader, without a mouse."""
    page.goto("/")
    _look_well(page)

    page.locator("#name").focus()
    page.keyboard.type("Alma Reyes")
    page.keyboard.press("Tab")
    page.keyboard.type("Harbour Hall")
    page.keyboard.press("Tab")
    page.keyboard.type(PASSWORD)
    page.keyboard.press("Enter")

    expect(page.get_by_role("heading", level=1)).to_have_text("Bring in your first group")
    _look_well(page)


def test_the_first_tab_skips_to_the_page(page: Page) -> None:
    """The first stop of the tab key leads past the frame."""
    page.goto("/")
    page.keyboard.press("Tab")

    skip = page.locator(":focus")
    assert skip.inner_text() == "Skip to the page"
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "main"


def test_a_demo_group_is_loaded_and_planned(page: Page) -> None:
    """Two presses lead to a block; progress can be seen on the way."""
    page.goto("/")
    page.get_by_role("button", name=re.compile("^Load ")).first.click()
    _look_well(page)

    page.get_by_role("button", name="Plan the block").click()
    expect(page.get_by_role("progressbar")).to_be_visible()
    _look_well(page)

    expect(page.get_by_role("heading", level=1)).to_have_text("The block", timeout=20_000)
    _look_well(page)


def test_a_breach_is_accepted(page: Page) -> None:
    """The leader has the last word, with a reason."""
    page.get_by_role("link", name="See each one, and decide").click()
    page.get_by_text("Accept this breach").first.click()
    page.get_by_label("Why is it right for this group?").first.fill("The hall is free then.")
    _look_well(page)
    page.get_by_role("button", name="Accept it").first.click()

    expect(page.get_by_text("Accepted by Alma Reyes")).to_be_visible()


def test_a_broken_group_is_told_in_a_table(page: Page, tmp_path: Path) -> None:
    """What cannot be read is shown with place and remedy, and looks well."""
    head, people = tmp_path / "group.toml", tmp_path / "people.csv"
    head.write_text("name = 3", encoding="utf-8")
    people.write_text("id,name\nx,\nx,Ann\n", encoding="utf-8")
    page.goto("/")

    page.get_by_label("A zip of the group’s folder").set_input_files([head, people])
    page.get_by_role("button", name="Bring it in").click()

    expect(page.get_by_text("Nothing was saved.")).to_be_visible()
    _look_well(page)


def test_people_and_one_person_can_be_read(page: Page) -> None:
    """Everybody's page can be read on a phone and at twice the size."""
    page.goto("/group/1/people/")
    _look_well(page)
    page.locator("a.line").first.click()

    expect(page.get_by_role("heading", name="To avoid, or to do with care")).to_be_visible()
    _look_well(page)


@pytest.mark.parametrize("paper", ["", "run-sheet/", "wall-copy/", "emergency/"])
def test_the_papers_of_a_session_are_one_or_two_pages(page: Page, paper: str) -> None:
    """Session, run sheet, wall copy and cards look well; the sheets fit two A4 pages."""
    page.goto(f"/plan/1/1/2/{paper}")
    _look_well(page)

    if paper in {"run-sheet/", "wall-copy/"}:
        pages = re.findall(rb"/Type\s*/Page\b", page.pdf(prefer_css_page_size=True))
        assert 1 <= len(pages) <= 2


def test_print_is_fourteen_point_and_more(page: Page) -> None:
    """No text on a printed run sheet is smaller than 14 points (18.66 CSS pixels)."""
    page.goto("/plan/1/1/2/run-sheet/")
    page.emulate_media(media="print")

    sizes = page.evaluate(
        """() => [...document.querySelectorAll('.run-sheet *')]
             .filter(e => [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim()))
             .filter(e => e.checkVisibility())
             .map(e => parseFloat(getComputedStyle(e).fontSize))"""
    )
    page.emulate_media(media="null")

    assert min(sizes) >= 18.66


def test_without_script_planning_ends_at_the_block(address: str, browser: Browser) -> None:
    """With scripts off the planning page comes again by itself until the block is there."""
    window = browser.new_context(base_url=address, java_script_enabled=False).new_page()
    window.goto("/sign-in/")
    window.get_by_label("Your name").fill("Alma Reyes")
    window.get_by_label("Password").fill(PASSWORD)
    window.get_by_role("button", name="Sign in").click()
    window.goto("/group/1/block/")
    window.get_by_role("button", name="Plan again").click()

    expect(window.get_by_role("heading", level=1)).to_have_text("The block", timeout=20_000)
    window.context.close()
