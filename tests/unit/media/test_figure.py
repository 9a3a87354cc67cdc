import json
import time
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest
from tests.fakes import sample_options as samples
from wcag_contrast_ratio import rgb

from halewright.core.catalogue.movement import Option, Pose
from halewright.media import figure, figure_views, outline, palette

PATH = "{http://www.w3.org/2000/svg}path"


@pytest.mark.parametrize("name", list(samples.SAMPLES))
@pytest.mark.parametrize("view", list(figure_views.View))
def test_a_still_is_small_and_well_formed(name: str, view: str) -> None:
    """Every sample in every view is an SVG of at most 40 kB without a ground of its own."""
    found = figure.svg(samples.SAMPLES[name], view=view)

    root = ET.fromstring(found)  # noqa: S314  our own words, not a stranger's
    assert root.tag.endswith("svg")
    assert len(found.encode()) <= 40_000
    assert "<rect" not in found
    assert "nan" not in found


def test_a_still_is_drawn_in_a_tenth_of_a_second() -> None:
    """One still takes at most 100 ms of this process's own time (40 ms when measured)."""
    figure.svg(samples.ROW)
    started_s = time.process_time()
    for _ in range(5):
        figure.svg(samples.ROW)

    assert (time.process_time() - started_s) / 5 < 0.1


def test_coral_means_the_band_and_nothing_else() -> None:
    """The band's colours appear where there is a band, and nowhere without one."""
    with_band = figure.svg(samples.ROW)
    without = figure.svg(samples.HEEL_RAISE)

    for colour in (palette.BAND, palette.BAND_EDGE):
        assert colour in with_band
        assert colour not in without


def _contrast(one: str, other: str) -> float:
    def parts(colour: str) -> tuple[float, float, float]:
        red, green, blue = (int(colour[k : k + 2], 16) / 255 for k in (1, 3, 5))
        return red, green, blue

    return float(rgb(parts(one), parts(other)))


def test_the_bands_edge_stands_out_from_the_ground_and_the_clothes() -> None:
    """At least 3:1 on the warm ground (WCAG 2.2, 1.4.11); the band itself on the trousers."""
    assert _contrast(palette.BAND_EDGE, palette.GROUND) >= 3.0
    assert _contrast(palette.BAND, palette.TROUSERS_FAR) >= 3.0


def test_even_a_small_movement_has_its_arrow() -> None:
    """A turn of the head is shown by a dotted way; a held pose, which goes nowhere, has none."""
    first, *_ = samples.HEEL_RAISE.poses
    turned = Pose(phase_ratio=1.0, angles_rad={**first.angles_rad, "neck_rotation": -0.7})
    still = Pose(phase_ratio=1.0, angles_rad=first.angles_rad)

    turn, hold = (
        figure.svg(replace(samples.HEEL_RAISE, poses=(first, last)), view="front")
        for last in (turned, still)
    )

    assert "stroke-dasharray" in turn
    assert "stroke-dasharray" not in hold


def test_the_same_option_gives_the_same_picture() -> None:
    """Nothing in a figure hangs on chance or order."""
    assert figure.svg(samples.ROTATION) == figure.svg(samples.ROTATION)


def test_frames_are_plain_data_that_point_into_their_own_lists() -> None:
    """A player needs only the lists of paths and fills; every number is in range."""
    found = json.loads(json.dumps(figure.frames(samples.ROW, count=4)))

    assert found["phases"] == [0.0, 0.3333, 0.6667, 1.0]
    (pictures,) = found["sides"].values()
    assert len(pictures) == 4
    for picture in pictures:
        assert all(0 <= number < len(found["paths"]) for number in picture[0::2])
        assert all(0 <= number < len(found["fills"]) for number in picture[1::2])


def test_what_stands_still_is_written_once() -> None:
    """Twelve frames of a row weigh far less than twelve stills: the chair and legs are shared."""
    found = json.dumps(figure.frames(samples.ROW, count=12))
    still = figure.svg(samples.ROW, ghost=False)

    assert len(found) < 0.75 * 12 * len(still)


@pytest.mark.parametrize("name", list(samples.SAMPLES))
def test_what_is_kept_from_frame_to_frame_is_the_same_picture(name: str) -> None:
    """The last of many frames is, shape by shape, the still without a ghost."""
    option = samples.SAMPLES[name]
    found = figure.frames(option, view="right_quarter", count=5)

    last = found["sides"]["right"][-1]
    drawn = [found["paths"][number] for number in last[0::2]]
    still = figure.svg(option, view="right_quarter", ghost=False)
    kept = [path.attrib["d"] for path in ET.fromstring(still).iter(PATH)]  # noqa: S314  our words

    assert drawn == kept


def test_sides_that_take_turns_come_with_their_mirror_image() -> None:
    """A movement done each side has frames for left and right; one done with both has one set."""
    assert set(figure.frames(samples.CURL_RIGHT, count=2)["sides"]) == {"right", "left"}
    assert set(figure.frames(samples.ROW, count=2)["sides"]) == {"right"}


@pytest.mark.parametrize(
    ("option", "words"),
    [
        (samples.ROW, ["sits on a chair", "held underfoot", "Both elbows bend by about 85"]),
        (samples.HEEL_RAISE, ["behind a chair", "both hands", "Both feet point down by about 30"]),
        (samples.CURL_RIGHT, ["The right elbow bends by about 115", "One side works"]),
        (samples.RISE, ["rises from a chair", "The body comes upright by about 30"]),
    ],
)
def test_a_figure_can_be_heard(option: Option, words: list[str]) -> None:
    """The words say how the person is placed, where the band is, and what moves how far.

    The row's elbows go from 14° to 98°: 84°, told as 85; the curl's from 15° to 130°: 115°.
    """
    found = figure.describe(samples.movement(option), option)

    for part in words:
        assert part in found


def test_a_view_that_does_not_exist_is_refused() -> None:
    """Only named views are drawn."""
    with pytest.raises(ValueError, match="upside_down"):
        figure.svg(samples.ROW, view="upside_down")


def test_a_square_keeps_its_size_and_rounds_its_corners() -> None:
    """Path data is in fifths of a picture unit, relative, with a curve at each corner."""
    square = outline.shapely.box(0.0, 0.0, 20.0, 20.0)

    found = outline.path_d(square)

    assert found.count("q") == 4
    assert found.startswith("M")
    assert found.endswith("z")
