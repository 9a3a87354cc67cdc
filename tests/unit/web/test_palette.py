import re
from importlib import resources

import pytest
import wcag_contrast_ratio

from halewright.web import palette


def _ratio(first: str, second: str) -> float:
    def shares(colour: str) -> tuple[float, ...]:
        return tuple(int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5))

    ratio: float = wcag_contrast_ratio.rgb(shares(first), shares(second))
    return ratio


def _css(name: str) -> str:
    return resources.files("halewright.web").joinpath("static", "web", "css", name).read_text()


def test_the_browser_gets_the_same_colours() -> None:
    """The style sheet repeats every colour, and only those."""
    found = dict(re.findall(r"--([a-z-]+): (#[0-9A-F]{6});", _css("palette.css")))

    assert found == palette.COLOURS


def test_black_on_white_is_twenty_one() -> None:
    """The ratio is the published formula: black on white is 21 to 1."""
    assert _ratio("#000000", "#FFFFFF") == pytest.approx(21)


@pytest.mark.parametrize(("text", "ground"), palette.TEXT_PAIRS)
def test_text_can_be_read(text: str, ground: str) -> None:
    """Every text stands out at least 4.5 to 1 from its ground (WCAG 2.2, 1.4.3)."""
    assert _ratio(palette.COLOURS[text], palette.COLOURS[ground]) >= 4.5


@pytest.mark.parametrize(("mark", "ground"), palette.GRAPHIC_PAIRS)
def test_marks_can_be_seen(mark: str, ground: str) -> None:
    """Edges of controls, focus rings and the band stand out at least 3 to 1 (1.4.11)."""
    assert _ratio(palette.COLOURS[mark], palette.COLOURS[ground]) >= 3


@pytest.mark.parametrize("name", ["pages.css", "paper.css", "run_sheet.css"])
def test_pages_use_no_other_colour(name: str) -> None:
    """A page takes its colours from the palette; paper adds black and white for the printer."""
    found = set(re.findall(r"#[0-9A-Fa-f]{3,8}\b", _css(name)))

    assert found <= {"#fff", "#000"}


def test_pictures_in_templates_use_no_other_colour() -> None:
    """Small pictures are drawn in the palette's colours."""
    folder = resources.files("halewright.web").joinpath("templates", "web")
    drawn = [folder.joinpath("_mark.html"), folder.joinpath("_caution.html")]
    drawn += list(folder.joinpath("set_ups").iterdir())

    found = {colour for path in drawn for colour in re.findall(r"#[0-9A-F]{6}", path.read_text())}

    assert found <= set(palette.COLOURS.values())


def test_coral_is_only_ever_the_band() -> None:
    """No page's style uses the band's colour for anything but a tag about a band."""
    uses = re.findall(r"([^{}]*)\{[^{}]*var\(--band(?:-edge)?\)", _css("pages.css"))

    assert [use.strip().splitlines()[-1] for use in uses] in ([], [".tag.with-band"])


def test_red_is_only_ever_stop() -> None:
    """No page's style uses red but the emergency page, where the word stop stands in it."""
    assert "--stop" not in _css("pages.css")
    assert "--stop" not in _css("run_sheet.css")
    uses = re.findall(r"([^{}]*)\{[^{}]*var\(--stop\)", _css("paper.css"))
    assert [use.strip() for use in uses] == [".card.urgent", ".stop-sign"]
