from dataclasses import replace
from datetime import date

import pytest
from tests import stories
from tests.cast import KEPT_AT, Cast

from halewright.core.people.group import LocalRule
from halewright.core.people.kit import BandCheck, CheckResult, MeasuredPoint
from halewright.store import queries
from halewright.usecases import bands, groups_kept

SIX = tuple(
    MeasuredPoint(slack_length_m=0.5, stretched_length_m=0.5 * ratio, reading_n=reading)
    for ratio, reading in ((1.2, 5.0), (1.4, 8.4), (1.6, 11.1), (1.8, 13.3), (2.0, 15.3), (2.2, 17))
)


def _thin(cast: Cast) -> int:
    return queries.bands_of(cast.group)[0][0]


def test_a_measuring_takes_the_place_of_the_one_before(cast: Cast) -> None:
    """Six good readings are kept, and the two old ones are gone."""
    found = bands.measure(SIX, group=cast.group, band_id=_thin(cast), limit_ratio=3.0)

    assert (found.refused, found.doubts) == ((), ())
    assert queries.whole(cast.group).bands[0].points == SIX


def test_readings_beyond_the_limit_are_refused_and_nothing_is_kept(cast: Cast) -> None:
    """A limit of twice the slack length turns 2.2 times away."""
    found = bands.measure(SIX, group=cast.group, band_id=_thin(cast), limit_ratio=2.0)

    assert "beyond the limit" in found.refused[0].words
    assert len(queries.whole(cast.group).bands[0].points) == 2


def test_a_check_is_added_and_a_retired_band_stays_retired(cast: Cast) -> None:
    """Two looks, the second finds a tear; a later list without that day does not bring it back."""
    for on, result in ((date(2026, 11, 3), CheckResult.SOUND), (date(2026, 11, 9), "retired")):
        bands.check(
            BandCheck(on=on, by="Alma", result=CheckResult(result), fault="tear"),
            group=cast.group,
            band_id=_thin(cast),
        )

    groups_kept.keep(
        stories.four_chairs(), organisation=cast.alma.organisation, by=cast.alma, at=KEPT_AT
    )

    band = queries.whole(cast.group).bands[0]
    assert [check.result for check in band.checks] == [CheckResult.SOUND, CheckResult.RETIRED]
    assert band.retired_on == date(2026, 11, 9)
    assert bands.retired(queries.whole(cast.group), on=date(2026, 11, 9)) == (band,)


def test_a_list_without_readings_leaves_the_readings(cast: Cast) -> None:
    """What was measured here outlives a folder that never knew of it."""
    bands.measure(SIX, group=cast.group, band_id=_thin(cast), limit_ratio=3.0)
    group = stories.four_chairs()
    bare = replace(group, bands=(replace(group.bands[0], points=()), group.bands[1]))

    groups_kept.keep(bare, organisation=cast.alma.organisation, by=cast.alma, at=KEPT_AT)

    assert queries.whole(cast.group).bands[0].points == SIX


def test_first_use_and_batch_are_recorded(cast: Cast) -> None:
    """Both come back with the group."""
    bands.record(first_used_on=date(2026, 9, 1), batch="L12", group=cast.group, band_id=_thin(cast))

    band = queries.whole(cast.group).bands[0]
    assert (band.first_used_on, band.batch) == (date(2026, 9, 1), "L12")


def test_the_local_life_of_a_band_is_kept_to(cast: Cast) -> None:
    """A group that replaces bands after three months hears of it then."""
    group = queries.whole(cast.group)
    rule = LocalRule(rule=bands.LIFE, who="Alma", why="heavy use", source="ours", at_most=3.0)
    band = replace(group.bands[0], first_used_on=date(2026, 8, 1), checked_on=date(2026, 11, 30))

    assert bands.wear_warnings(band, group=group, on=date(2026, 12, 1)) == ()
    (told,) = bands.wear_warnings(
        band, group=replace(group, local_rules=(rule,)), on=date(2026, 12, 1)
    )
    assert "replace it" in told


def test_a_band_of_another_group_is_not_here(cast: Cast) -> None:
    """A number that the bag does not hold is refused in words."""
    with pytest.raises(bands.NoSuchBand, match="no band number 999"):
        bands.record(first_used_on=None, batch="", group=cast.group, band_id=999)
