"""The people a leader may choose between: all drawn small, all able to show the band."""

import math
import xml.etree.ElementTree as ET

import pytest
from tests.fakes import sample_options as samples
from wcag_contrast_ratio import rgb

from halewright.media import figure, figure_people, palette
from halewright.media.figure_people import Look
from halewright.media.figure_seats import Seat

SHADES = ("near", "near_shade", "far", "far_shade")
each_look = pytest.mark.parametrize(
    "look", figure_people.PEOPLE.values(), ids=list(figure_people.PEOPLE)
)


def _steps(colour: str) -> tuple[int, ...]:
    return tuple(int(colour[k : k + 2], 16) for k in (1, 3, 5))


def _contrast(one: str, other: str) -> float:
    def parts(colour: str) -> tuple[float, float, float]:
        red, green, blue = (int(colour[k : k + 2], 16) / 255 for k in (1, 3, 5))
        return red, green, blue

    return float(rgb(parts(one), parts(other)))


def test_nobody_chosen_shows_the_default() -> None:
    """The first look is the one that every figure has had so far."""
    chosen = next(iter(figure_people.PEOPLE.values()))

    assert chosen is figure_people.DEFAULT
    assert figure.svg(samples.ROW, look=chosen) == figure.svg(samples.ROW)


def test_people_differ_in_what_people_differ_in() -> None:
    """There are several skins, hair styles, builds and shirts, glasses and a hearing aid."""
    looks = tuple(figure_people.PEOPLE.values())

    assert len({look.skin for look in looks}) >= 4
    assert len({look.style for look in looks}) >= 5
    assert len({look.girth_ratio for look in looks}) >= 4
    assert len({look.shirt for look in looks}) >= 4
    assert any(look.has_glasses for look in looks)
    assert any(look.has_hearing_aid for look in looks)


@each_look
def test_every_look_is_drawn_small(look: Look) -> None:
    """Each look's figure is sound and at most 40 kB, in profile and from the front."""
    for view in ("right_side", "front"):
        found = figure.svg(samples.ROW, view=view, look=look)

        assert ET.fromstring(found).tag.endswith("svg")  # noqa: S314  our own words
        assert len(found.encode()) <= 40_000


@each_look
def test_no_look_wears_the_bands_colour(look: Look) -> None:
    """Coral means the band: no cloth or hair comes near it (60 of 442 steps in red-green-blue)."""
    cloth = [
        *(getattr(tones, shade) for tones in (look.shirt, look.trousers) for shade in SHADES),
        look.hair,
        look.hair_shade,
    ]

    assert palette.BAND not in figure.svg(samples.HEEL_RAISE, look=look)
    for colour in cloth:
        assert math.dist(_steps(colour), _steps(palette.BAND)) > 60.0


@each_look
def test_the_band_stands_out_from_the_trousers(look: Look) -> None:
    """Where the band lies on the far thigh it keeps 3:1 (WCAG 2.2, 1.4.11)."""
    assert _contrast(palette.BAND, look.trousers.far) >= 3.0


def test_sides_are_labelled_at_the_feet() -> None:
    """Left and right are written once each from the front, and the nearer alone in profile."""
    front = figure.svg(samples.HEEL_RAISE, view="front", labels=("left", "right"))
    profile = figure.svg(samples.HEEL_RAISE, view="right_side", labels=("left", "right"))

    assert (front.count(">left<"), front.count(">right<")) == (1, 1)
    assert (profile.count(">left<"), profile.count(">right<")) == (0, 1)


def test_labels_cannot_break_the_picture() -> None:
    """A word with marks of its own is written as words."""
    found = figure.svg(samples.HEEL_RAISE, view="front", labels=("<l>", "r&"))

    assert "&lt;l&gt;" in found
    assert ET.fromstring(found).tag.endswith("svg")  # noqa: S314  our own words


@pytest.mark.parametrize("seat", list(Seat))
@pytest.mark.parametrize("view", ["right_quarter", "left_quarter", "right_side", "front"])
def test_every_seat_is_drawn_small(seat: Seat, view: str) -> None:
    """A chair, one with arms and a wheelchair: sound pictures of at most 40 kB from all round."""
    found = figure.svg(samples.ROW, view=view, seat=seat)

    assert ET.fromstring(found).tag.endswith("svg")  # noqa: S314  our own words
    assert len(found.encode()) <= 40_000


def test_the_seat_changes_nothing_but_the_seat() -> None:
    """Three seats are three pictures of one sitter; who stands keeps the chair that they hold."""
    seated = {figure.svg(samples.ROW, seat=seat) for seat in Seat}
    standing = {figure.svg(samples.HEEL_RAISE, seat=seat) for seat in Seat}

    assert len(seated) == 3
    assert len(standing) == 1
    assert len({drawn.split("viewBox=")[1].split(">")[0] for drawn in seated}) == 1
