"""Pictures compared with those that were looked at, and with their own mirror image."""

from pathlib import Path

import numpy as np
import pytest
from shapely import affinity
from shapely.geometry.base import BaseGeometry
from tests.fakes import coarse_picture
from tests.fakes import sample_options as samples

from halewright.core.catalogue.movement import Option
from halewright.core.mechanics import angles, joints, kinematics
from halewright.core.mechanics.skeleton import REFERENCE_BODY
from halewright.media import camera as cameras
from halewright.media import figure, figure_band, figure_person, palette
from halewright.media.figure_parts import Sketch

GOLDEN = Path(__file__).parents[2] / "golden" / "figures"
UNLIKE_SHARE = 0.015
"""Letters that may differ: a change of one pixel in outlines, not a limb."""
UNLIKE_AREA_RATIO = 0.06
"""The light falls from one side only, so that folds and shade are not mirrored."""
NAMES = {
    palette.BAND: "#",
    palette.SKIN: "o",
    palette.SKIN_FAR: "o",
    palette.SHIRT: "s",
    palette.SHIRT_FAR: "s",
    palette.TROUSERS: "t",
    palette.TROUSERS_FAR: "t",
    palette.HAIR: "h",
    palette.WOOD: "w",
    palette.WOOD_SHADE: "w",
    palette.PAD: "p",
    palette.SHOE: "f",
}


@pytest.mark.parametrize("view", ["right_quarter", "left_quarter", "right_side", "front"])
@pytest.mark.parametrize("name", list(samples.SAMPLES))
def test_a_picture_is_the_one_that_was_looked_at(
    name: str, view: str, request: pytest.FixtureRequest
) -> None:
    """A sample's coarse picture differs from the kept one in few letters; `--golden` renews it."""
    drawn = coarse_picture.letters(figure.svg(samples.SAMPLES[name], view=view), names=NAMES)
    kept = GOLDEN / f"{name}-{view}.txt"
    if request.config.getoption("--golden"):
        kept.parent.mkdir(exist_ok=True)
        kept.write_text("\n".join(drawn) + "\n", encoding="utf-8")

    looked_at = tuple(kept.read_text(encoding="utf-8").splitlines())
    assert coarse_picture.unlike_share(drawn, looked_at) <= UNLIKE_SHARE


def test_a_coarse_picture_tells_a_moved_arm() -> None:
    """Start and end of a row differ in far more letters than may be."""
    start, end = (
        coarse_picture.letters(
            figure.svg(samples.ROW, view="right_quarter", phase_ratio=phase), names=NAMES
        )
        for phase in (0.0, 1.0)
    )

    assert coarse_picture.unlike_share(start, end) > UNLIKE_SHARE


def _silhouettes(option: Option, *, azimuth_deg: float) -> dict[str, BaseGeometry]:
    """Return every part's silhouette at the far end, the band's among them."""
    posture = kinematics.posture(
        body=REFERENCE_BODY, option=option, phase_ratios=np.array([1.0, 0.0])
    )
    eye = cameras.camera(azimuth_deg=azimuth_deg, elevation_deg=10.0)
    sketch = Sketch(posture=posture, frame=0, camera=eye)
    person = figure_person.parts(sketch)
    band = figure_band.parts(sketch, paths=option.paths, person=person)
    return {part.name: part.silhouette for part in [*person, *band]}


def _other_side(name: str) -> str:
    return joints.other_side(name.replace(" ", "_")).replace("_", " ")


@pytest.mark.parametrize("name", list(samples.SAMPLES))
def test_a_mirrored_movement_gives_the_mirrored_figure(name: str) -> None:
    """Sides exchanged and seen from the other quarter, every part and the band is its own image.

    The eye at azimuth a sees at x what the eye at 180° - a sees of the mirror image at -x.
    """
    option = samples.SAMPLES[name]

    seen = _silhouettes(option, azimuth_deg=38.0)
    image = _silhouettes(angles.mirrored(option), azimuth_deg=142.0)

    assert {_other_side(part) for part in seen} == set(image)
    for part, shape in seen.items():
        turned = affinity.scale(image[_other_side(part)], xfact=-1.0, origin=(0.0, 0.0))
        unlike = shape.symmetric_difference(turned).area
        assert unlike <= UNLIKE_AREA_RATIO * shape.area, part
