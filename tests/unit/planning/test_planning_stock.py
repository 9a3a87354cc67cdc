"""Whether the bag holds enough bands."""

from dataclasses import replace
from datetime import date

import pytest
from tests.fakes import plan_world, small_block

from halewright.core.people.kit import Band, BandLabel, Material, Shape
from halewright.core.people.person import LatexReaction
from halewright.core.planning import calendar, stock

PULL = plan_world.main_movement("pull-1")
HIP = plan_world.main_movement("hip-1")
RISE = plan_world.main_movement("rise-1")


def band(count: int, **changes: object) -> Band:
    plain = Band(label=BandLabel("own"), material=Material.LATEX, count=count)
    return replace(plain, **changes)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("bands", "enough"),
    [
        ((), True),
        ((band(2),), False),
        ((band(3),), True),
        ((band(2), band(1)), True),
        ((band(9, shape=Shape.LOOP),), False),
        ((band(3, retired_on=date(2027, 3, 2)),), False),
        ((band(3, retired_on=date(2027, 3, 3)),), True),
    ],
)
def test_three_people_need_three_strips(bands: tuple[Band, ...], enough: bool) -> None:
    """On 2 March: loops are no strips, a band retired that day is gone, no bag is not judged."""
    group = small_block.group(bands=bands)
    (meet,) = calendar.held(group)
    assert stock.suffices(PULL, meet=meet, group=group) is enough


def test_loop_movement_needs_loops_and_a_bandless_one_nothing() -> None:
    """A closed path takes a loop."""
    group = small_block.group(bands=(band(3),))
    (meet,) = calendar.held(group)
    assert stock.shape_of(HIP) is Shape.LOOP
    assert not stock.suffices(HIP, meet=meet, group=group)
    assert stock.suffices(RISE, meet=meet, group=group)


@pytest.mark.parametrize(
    ("material", "enough"),
    [(Material.LATEX, False), (Material.NOT_KNOWN, False), (Material.LATEX_FREE, True)],
)
def test_only_latex_free_counts_where_somebody_reacts(material: Material, enough: bool) -> None:
    """Not known is treated as latex."""
    ann = small_block.person("ann", latex=LatexReaction.IMMEDIATE)
    group = small_block.group(ann, bands=(band(3, material=material),))
    (meet,) = calendar.held(group)
    assert stock.needs_latex_free(meet, group)
    assert stock.suffices(PULL, meet=meet, group=group) is enough
