"""A whole evening on the hall screen: eighty parts and the longest names of the catalogue."""

from typing import Any

import pytest
from tests.fakes import outlines

from halewright.core.catalogue.words import Part
from halewright.core.session import build, hall
from halewright.core.session.durations import Durations
from halewright.files import movements
from halewright.usecases import hall as halls
from halewright.usecases import sessions

pytestmark = pytest.mark.journey
SIZES = ((1920, 1080), (1366, 768), (390, 844))
STATIONS_COUNT = 9


def _evening() -> hall.HallDocument:
    """Two rounds of the nine main movements with the longest names."""
    catalogue = movements.shipped()
    main = [each for each in catalogue.values() if each.part is Part.MAIN]
    longest = sorted(main, key=lambda each: (-len(each.name), each.id))[:STATIONS_COUNT]
    outline = outlines.outline(main=tuple(each.id for each in longest), rounds=2)
    timeline = build.timeline(outline=outline, catalogue=catalogue, durations=Durations())
    figures = sessions.figures(catalogue, {longest[0].id, longest[1].id})
    return hall.hall_document(timeline=timeline, catalogue=catalogue, figures=figures)


def test_eighty_parts_and_long_names_fit(page: Any, served: Any) -> None:
    """At every size nothing scrolls sideways, and the pacer stays clear of what comes next."""
    evening = _evening()
    halls.show(document=evening, home=served.home)
    first = next(place for place, event in enumerate(evening.events) if event.kind == "work")
    page.goto(f"{served.base}/hall/")
    page.get_by_role("button", name="Start").wait_for()
    for _ in range(first):
        page.keyboard.press("ArrowRight")

    for width, height in SIZES:
        page.set_viewport_size({"width": width, "height": height})
        page.get_by_role("heading", name=evening.events[first].title).first.wait_for()
        told = page.evaluate(
            """() => ({
              wide: document.documentElement.scrollWidth,
              pacer: document.getElementById('pacer').getBoundingClientRect().bottom,
              next: document.getElementById('next').getBoundingClientRect().top,
            })"""
        )
        assert told["wide"] <= width
        assert told["pacer"] <= told["next"] + 1
