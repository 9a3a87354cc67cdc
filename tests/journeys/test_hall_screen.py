"""The hall screen in a real browser: played, stopped, put to sleep, cut off and reloaded."""

import re
import time
from typing import Any

import pytest
from tests.journeys.conftest import Served

pytestmark = pytest.mark.journey

COMPLETE = "Complete on this device"
_WORK = "[data-kind=work]"


def _open(page: Any, served: Served) -> None:
    page.goto(f"{served.base}/hall/")
    page.wait_for_selector("body[data-loaded=yes]")


def _complete(page: Any) -> None:
    page.locator("#device", has_text=COMPLETE).wait_for(timeout=20_000)


def _left_s(page: Any) -> int:
    minutes, seconds = page.inner_text("#time").split(":")
    return int(minutes) * 60 + int(seconds)


def _gone_s(page: Any) -> int:
    minutes, seconds = page.inner_text("#gone").split(" of ")[0].split(":")
    return int(minutes) * 60 + int(seconds)


def _to_work(page: Any) -> None:
    """Start, and skip to the first work interval."""
    page.keyboard.press("Space")
    for _ in range(20):
        if page.locator(f"body{_WORK}").count():
            return
        page.keyboard.press("ArrowRight")
        page.wait_for_timeout(50)
    pytest.fail("The sample has no work interval.")


def test_it_waits_until_it_is_started(page: Any, sample_server: Served) -> None:
    """A session that was opened does not begin by itself."""
    _open(page, sample_server)

    page.wait_for_timeout(1500)

    assert page.inner_text("#gone").startswith("0:00")
    assert page.inner_text("#toggle") == "Start"


def test_space_starts_and_pauses(page: Any, sample_server: Served) -> None:
    """The space bar is the whole remote of a leader with a band in the other hand."""
    page.clock.install()
    _open(page, sample_server)

    page.keyboard.press("Space")
    page.clock.run_for(5000)
    running = _left_s(page)
    page.keyboard.press("Space")
    page.clock.run_for(30_000)

    assert running == 15
    assert _left_s(page) == running
    assert page.inner_text("#state") == "Paused"


def test_arrows_and_buttons_do_the_same(page: Any, sample_server: Served) -> None:
    """Skip and back by key, then by button, end at the same places."""
    page.clock.install()
    _open(page, sample_server)
    names = []

    for act in (
        lambda: page.keyboard.press("ArrowRight"),
        lambda: page.click("[data-command=skip]"),
        lambda: page.keyboard.press("ArrowLeft"),
        lambda: page.click("[data-command=back]"),
    ):
        act()
        page.clock.run_for(300)
        names.append(page.inner_text("#name"))

    assert names[0] == names[2]
    assert names[1] != names[0]
    assert names[3] == "Welcome"


def test_more_time_moves_what_follows_and_is_told(page: Any, sample_server: Served) -> None:
    """Arrow up adds 30 s, the small button 10 s; what that costs is on the screen."""
    page.clock.install()
    _open(page, sample_server)

    page.keyboard.press("ArrowUp")
    page.click("[data-command=extendLittle]")
    page.keyboard.press("+")
    page.clock.run_for(300)

    assert _left_s(page) == 20 + 30 + 10 + 30
    assert "after the slot" in page.inner_text("#over")


def test_a_whole_session_plays_to_its_end(page: Any, sample_server: Served) -> None:
    """Every stretch of the document is shown once, in its order, in its own time."""
    page.clock.install()
    _open(page, sample_server)
    planned = page.evaluate("fetch('/hall/document.json').then((sent) => sent.json())")
    page.keyboard.press("Space")

    for event in planned["events"]:
        middle_ms = (event["start_ms"] + event["end_ms"]) // 2
        page.clock.run_for(middle_ms - _gone_s(page) * 1000)
        assert page.get_attribute("body", "data-kind") == event["kind"]
        if event["movement"]:
            assert page.inner_text("#name") == event["title"]
            assert page.inner_text("#side") == event["side_words"]
    page.clock.run_for(60_000)

    assert page.get_attribute("body", "data-state") == "finished"
    assert page.inner_text("#name") == "Well done"


def test_the_next_set_up_is_the_main_thing_in_a_changeover(
    page: Any, sample_server: Served
) -> None:
    """Before the band moves, the screen shows where to, how, and what to take care of."""
    page.clock.install()
    _open(page, sample_server)
    _to_work(page)
    page.keyboard.press("ArrowLeft")
    page.clock.run_for(300)

    assert page.inner_text("#what") == "Change over – next"
    assert page.inner_text("#move-band") == "Move the band"
    assert page.inner_text("#set-up") == "Band under your feet"
    assert page.locator("#figure svg").is_visible()
    assert page.inner_text("#safety-words") != ""


def test_what_comes_next_is_marked_ten_seconds_before(page: Any, sample_server: Served) -> None:
    """At eleven seconds left it is quiet, at nine it is marked."""
    page.clock.install()
    _open(page, sample_server)
    _to_work(page)

    page.clock.run_for(29_000)
    before = page.get_attribute("#next", "data-soon")
    page.clock.run_for(2_000)

    assert (before, page.get_attribute("#next", "data-soon")) == ("no", "yes")
    assert page.locator("#next-figure svg").is_visible()


def test_holding_the_class_stops_the_clock_with_a_calm_line(
    page: Any, sample_server: Served
) -> None:
    """One key holds; nothing resumes but by a press on purpose."""
    page.clock.install()
    _open(page, sample_server)
    _to_work(page)

    page.keyboard.press("h")
    page.clock.run_for(20_000)
    held = _left_s(page)
    page.keyboard.press("Space")
    page.clock.run_for(5_000)

    assert page.locator("#held h2").inner_text() == "Sit tall, feet moving, bands down"
    assert _left_s(page) == held
    assert page.get_attribute("body", "data-state") == "paused"


def test_stop_signs_open_in_every_state(page: Any, sample_server: Served) -> None:
    """Ready, running, paused or finished: the panel is one press away, and has word and shape."""
    page.clock.install()
    _open(page, sample_server)

    for press in ("", "Space", "Space"):
        if press:
            page.keyboard.press(press)
        page.click(".stop")
        assert page.locator("#stop-signs h2").inner_text().strip() == "Stop signs"
        assert page.locator("#stop-signs h2 svg").is_visible()
        page.keyboard.press("Escape")


def test_keyboard_alone_reaches_every_button(page: Any, sample_server: Served) -> None:
    """Tab goes through all controls; a button in focus is pressed with space or enter."""
    page.clock.install()
    _open(page, sample_server)
    seen = set()

    for _ in range(14):
        page.keyboard.press("Tab")
        seen.add(page.evaluate("document.activeElement.dataset.command ?? ''"))
    page.focus("[data-command=skip]")
    page.keyboard.press("Shift+Tab")
    page.keyboard.press("Tab")
    page.keyboard.press("Space")
    page.clock.run_for(300)

    wanted = {"theme", "fullScreen", "back", "toggle", "skip", "extend", "extendLittle", "hold"}
    assert wanted | {"stopSigns"} <= seen
    assert page.inner_text("#name") != "Welcome"
    assert page.get_attribute("body", "data-state") == "ready"


def test_after_sleep_it_asks(page: Any, sample_server: Served) -> None:
    """A jump of both clocks while the page was in view: stop, ask, do what is answered."""
    page.clock.install()
    _open(page, sample_server)
    _to_work(page)
    page.clock.run_for(3_000)
    place = _gone_s(page)

    page.clock.fast_forward(30_000)
    page.clock.run_for(300)
    page.wait_for_selector("#asking[open]")
    page.click("[data-command=carry-on]")
    page.clock.run_for(300)

    assert abs(_gone_s(page) - place) <= 1
    assert page.get_attribute("body", "data-state") == "running"


def test_server_killed_and_page_reloaded_in_mid_interval(page: Any, served: Served) -> None:
    """With the server gone a reload carries on by itself, within a second of the true place."""
    _open(page, served)
    _complete(page)
    _to_work(page)
    page.wait_for_timeout(2_500)
    before, at = _gone_s(page), time.monotonic()

    served.kill()
    page.reload()
    page.wait_for_selector("body[data-loaded=yes][data-state=running]")
    page.wait_for_timeout(1_200)
    passed = time.monotonic() - at

    assert page.get_attribute("body", "data-kind") == "work"
    assert abs(_gone_s(page) - before - passed) <= 1.0
    assert page.locator("#figure svg").is_visible()
    assert page.evaluate("document.fonts.check('20px \"Atkinson Hyperlegible\"')")


def test_three_stations_with_the_server_gone_half_way(page: Any, served: Served) -> None:
    """The circuit goes on over a dead server and a reload to its third station and its end."""
    _open(page, served)
    _complete(page)
    _to_work(page)
    stations = [page.inner_text("#place")]

    served.kill()
    for _ in range(60):
        page.keyboard.press("ArrowRight")
        page.wait_for_timeout(60)
        if len(stations) == 2:
            page.reload()
            page.wait_for_selector("body[data-loaded=yes][data-state=running]")
        if page.locator(f"body{_WORK}").count() and page.inner_text("#place") not in stations:
            stations.append(page.inner_text("#place"))
        if page.get_attribute("body", "data-state") == "finished":
            break

    assert stations[:3] == [f"Round 1 of 2 · Station {number} of 3" for number in (1, 2, 3)]
    assert page.get_attribute("body", "data-state") == "finished"


def test_a_pause_survives_the_loss_of_page_and_server(page: Any, served: Served) -> None:
    """Paused stays paused, however long the page was closed."""
    _open(page, served)
    _complete(page)
    _to_work(page)
    page.keyboard.press("ArrowUp")
    page.keyboard.press("Space")
    kept = page.inner_text("#time")

    served.kill()
    page.goto("about:blank")
    page.wait_for_timeout(3_000)
    page.goto(f"{served.base}/hall/")
    page.wait_for_selector("body[data-loaded=yes][data-state=paused]")

    assert page.inner_text("#time") == kept


def test_a_newer_session_waits_for_the_running_one(page: Any, served: Served) -> None:
    """What plays is not changed under way; when it has ended, the newer one is taken up."""
    _open(page, served)
    _complete(page)
    _to_work(page)
    _show_another(page, served)
    page.evaluate("navigator.serviceWorker.getRegistration('/hall/').then((r) => r.update())")
    page.locator("#newer", has_text="newer session").wait_for(timeout=20_000)
    running = page.inner_text("#title")

    for _ in range(40):
        page.keyboard.press("ArrowRight")
    page.locator("#title", has_text="Tonight’s session").wait_for(timeout=20_000)

    assert running == "Sample session"
    assert page.get_attribute("body", "data-state") == "ready"


def _show_another(page: Any, served: Served) -> None:
    document = page.request.get(f"{served.base}/hall/document.json").text()
    place = served.home / "hall" / "document.json"
    place.parent.mkdir(exist_ok=True)
    place.write_text(document.replace("Sample session", "Tonight’s session"), encoding="utf-8")


def test_nothing_is_loaded_from_elsewhere_and_nothing_is_refused(
    page: Any, sample_server: Served
) -> None:
    """Every request goes to our own server and is answered; no policy is broken."""
    asked: list[str] = []
    troubles: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda said: troubles.append(said.text) if said.type == "error" else None)
    page.on("response", lambda got: troubles.append(got.url) if got.status >= 400 else None)

    _open(page, sample_server)
    _complete(page)

    assert troubles == []
    assert all(url.startswith((sample_server.base, "blob:", "data:")) for url in asked)


@pytest.mark.parametrize("theme", ["bright", "dark"])
@pytest.mark.parametrize("state", ["ready", "work", "changeover", "held", "stop-signs"])
def test_no_accessibility_fault_is_found(
    page: Any, sample_server: Served, theme: str, state: str
) -> None:
    """The rules of axe-core find nothing, in both themes and all main states."""
    axe = pytest.importorskip("axe_playwright_python.sync_playwright")
    page.emulate_media(color_scheme="dark" if theme == "dark" else "light")
    page.clock.install()
    _open(page, sample_server)
    if state != "ready":
        _to_work(page)
    if state == "changeover":
        page.keyboard.press("ArrowLeft")
    if state in {"held", "stop-signs"}:
        page.keyboard.press("h" if state == "held" else "s")
    page.clock.run_for(1_000)

    found = axe.Axe().run(page).response["violations"]

    assert page.get_attribute("html", "data-theme") == theme
    assert [(each["id"], [node["html"] for node in each["nodes"]]) for each in found] == []


@pytest.mark.parametrize(("width", "height"), [(1920, 1080), (1366, 768), (1024, 768), (390, 844)])
def test_everything_fits_and_the_controls_are_large(
    page: Any, sample_server: Served, width: int, height: int
) -> None:
    """No sideways scrolling, controls of 44 px and more, nothing over anything else."""
    page.set_viewport_size({"width": width, "height": height})
    page.clock.install()
    _open(page, sample_server)
    _to_work(page)
    page.clock.run_for(500)

    told = page.evaluate(
        """() => ({
          wide: document.documentElement.scrollWidth,
          small: [...document.querySelectorAll('button')].filter((b) => b.offsetParent)
            .map((b) => b.getBoundingClientRect())
            .filter((r) => r.height < 44 || r.width < 44).length,
          name: document.getElementById('name').getBoundingClientRect().top,
          header: document.querySelector('header').getBoundingClientRect().bottom,
          pacer: document.getElementById('pacer').getBoundingClientRect().bottom,
          next: document.getElementById('next').getBoundingClientRect().top,
          time: parseFloat(getComputedStyle(document.getElementById('time')).fontSize),
        })"""
    )

    assert told["wide"] <= width
    assert told["small"] == 0
    assert told["name"] >= told["header"] - 1
    assert told["pacer"] <= told["next"] + 1
    if width > height:
        assert told["time"] >= 0.25 * height


def test_less_motion_is_respected(page: Any, sample_server: Served) -> None:
    """For who asked for less motion the figure stands still and the bar moves in steps."""
    page.emulate_media(reduced_motion="reduce")
    page.clock.install()
    _open(page, sample_server)
    _to_work(page)
    pictures, fills = set(), set()

    for _ in range(20):
        page.clock.run_for(250)
        shown = "#figure svg > g > g:not([display])"
        pictures.add(page.evaluate(f"document.querySelector('{shown}').innerHTML"))
        fills |= set(
            page.evaluate(
                "[...document.querySelectorAll('#pacer-parts i')].map((i) => i.style.transform)"
            )
        )

    assert len(pictures) == 1
    assert {re.sub(r"\.0+", "", fill) for fill in fills} <= {"scaleX(0)", "scaleX(1)"}
