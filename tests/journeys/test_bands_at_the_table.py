"""A leader measures a band and prints who has which, in a real browser."""

import os
import re
import socket
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from tests.cast import PASSWORD
from tests.fakes import kit

pytestmark = pytest.mark.journey

LAPTOP = {"width": 1366, "height": 768}
SMALL = ({"width": 390, "height": 844}, {"width": 683, "height": 384})
"""A phone, and the laptop at 200 % zoom."""
LEAST_PX = 18.66
"""14 points."""


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The real pages on a free port, with an empty home."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    with subprocess.Popen(  # noqa: S603  our own interpreter
        [sys.executable, "-m", "tests.fakes.site", str(port)],
        cwd=Path(__file__).parents[2],
        env={**os.environ, "HALEWRIGHT_HOME": str(tmp_path_factory.mktemp("home"))},
        stdout=subprocess.PIPE,
        text=True,
    ) as server:
        assert server.stdout is not None
        assert server.stdout.readline().strip() == "ready"
        yield f"http://127.0.0.1:{port}"
        server.terminate()


@pytest.fixture(scope="module")
def window(address: str, browser: Any) -> Iterator[Any]:
    """A leader's window with the demo group planned; an error in it fails the journey."""
    opened = browser.new_context(base_url=address, viewport=LAPTOP).new_page()
    errors: list[str] = []
    opened.on("pageerror", lambda error: errors.append(str(error)))
    opened.goto("/")
    opened.locator("#name").fill("Alma Reyes")
    opened.locator("#organisation").fill("Harbour Hall")
    opened.locator("#password").fill(PASSWORD)
    opened.keyboard.press("Enter")
    opened.get_by_role("button", name=re.compile("Load Marlow")).click()
    opened.get_by_role("button", name="Plan the block").click()
    opened.get_by_role("heading", level=1, name="The block").wait_for(timeout=20_000)
    yield opened
    opened.context.close()
    assert errors == []


def _look_well(window: Any) -> None:
    violations = Axe().run(window).response["violations"]
    assert [(each["id"], each["nodes"][0]["html"]) for each in violations] == []
    for size in SMALL:
        window.set_viewport_size(size)
        width = window.evaluate("document.documentElement.scrollWidth")
        assert width <= size["width"], f"{window.url} is {width} wide on {size['width']}"
    window.set_viewport_size(LAPTOP)


def test_a_band_is_measured_by_keyboard_and_the_curve_follows(window: Any) -> None:
    """Five steps of the tab key to the next pair; a slip is said at once, before it is sent."""
    window.goto("/group/1/bands/")
    _look_well(window)
    window.get_by_role("link", name=re.compile("Flint")).click()
    _look_well(window)
    window.get_by_role("link", name="Measure it").click()
    _look_well(window)

    window.locator("#slack").focus()
    window.keyboard.type("50")
    window.keyboard.press("Tab")
    window.keyboard.press("ArrowDown")
    for length, reading in kit.GOOD:
        window.keyboard.press("Tab")
        window.keyboard.type(str(length))
        window.keyboard.press("Tab")
        window.keyboard.type(f"{3 * reading:g}")
    assert window.locator("#curve circle").count() == len(kit.GOOD)
    window.locator("[name=out-length-6]").fill("160")
    assert "Reading 6 is beyond the limit. Stop at 150 cm." in window.locator("#live").inner_text()
    _look_well(window)

    window.keyboard.press("Enter")
    window.get_by_text("Not saved yet.").wait_for()
    _look_well(window)
    window.locator("[name=out-length-6]").fill("110")
    window.keyboard.press("Enter")
    window.get_by_text("Flint is measured.").wait_for()
    _look_well(window)


def test_measuring_works_without_a_script(address: str, browser: Any) -> None:
    """The same form, typed with scripts off, keeps the same readings."""
    plain = browser.new_context(base_url=address, java_script_enabled=False).new_page()
    plain.goto("/sign-in/")
    plain.get_by_label("Your name").fill("Alma Reyes")
    plain.get_by_label("Password").fill(PASSWORD)
    plain.get_by_role("button", name="Sign in").click()
    plain.goto("/group/1/bands/4/measure/")
    assert not plain.locator("#curve").is_visible()
    for name, text in kit.SENT.items():
        if name == "unit":
            plain.get_by_label("Newtons").check()
        else:
            plain.locator(f"[name={name}]").fill(text)
    plain.get_by_role("button", name="Check and keep").click()

    assert "Slate is measured." in plain.content()
    plain.context.close()


@pytest.mark.parametrize("paper", ["/group/1/bands/how-to-measure/", "/plan/1/1/2/bands/"])
def test_papers_are_fourteen_point_and_carry_the_cautions(window: Any, paper: str) -> None:
    """What is printed can be read at arm's length, and says what to look at first."""
    window.goto(paper)
    _look_well(window)
    assert "from end to end first" in window.content()

    window.emulate_media(media="print")
    sizes = window.evaluate(
        """() => [...document.querySelectorAll('.paper *')]
             .filter(e => [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim()))
             .filter(e => e.checkVisibility())
             .map(e => parseFloat(getComputedStyle(e).fontSize))"""
    )
    limits = [each for each in window.get_by_text("limit of").all() if each.is_visible()]
    window.emulate_media(media="null")
    pages = re.findall(rb"/Type\s*/Page\b", window.pdf(prefer_css_page_size=True))

    assert min(sizes) >= LEAST_PX
    assert limits == [], "a printed sheet tells nobody's limit"
    assert len(pages) <= (1 if "how-to" in paper else 4)


def test_a_card_is_one_press_from_the_sheet(window: Any) -> None:
    """The same band and grip stand on the card, and it looks well."""
    window.goto("/plan/1/1/2/bands/")
    line = window.locator(".grips li").filter(has=window.locator("b", has_text="cm")).first
    grip = line.locator("b").inner_text()
    line.get_by_role("link").click()

    assert window.locator(".big-grip").inner_text().casefold() == grip.casefold()
    _look_well(window)
