from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from tests import stories

from halewright.core.people.kit import BandCheck, CheckResult, MeasuredPoint, Phase
from halewright.files import band_checks, group_folder
from halewright.files.quantities import Unread


def test_a_kit_record_is_written_and_read_back(tmp_path: Path) -> None:
    """First use, batch, checks with a fault, and readings of both ways survive the folder."""
    group = stories.four_chairs()
    back = MeasuredPoint(
        slack_length_m=1.0, stretched_length_m=1.5, reading_n=11.0, phase=Phase.UNLOADING
    )
    band = replace(
        group.bands[0],
        first_used_on=date(2026, 9, 1),
        batch="L 12",
        checks=(
            BandCheck(
                on=date(2026, 10, 1), by="Alma Reyes", result=CheckResult.WATCH, fault="a nick"
            ),
            BandCheck(on=date(2026, 11, 1), by="Bram", result=CheckResult.SOUND),
        ),
        points=(*group.bands[0].points, back),
    )
    group = replace(group, bands=(band, *group.bands[1:]))

    group_folder.write(group, tmp_path / "group")

    assert group_folder.read(tmp_path / "group") == group


def test_signs_that_part_checks_become_commas() -> None:
    """A semicolon in somebody's words cannot break the cell."""
    check = BandCheck(on=date(2026, 10, 1), by="A", result=CheckResult.WATCH, fault="nick; tear")

    (again,) = band_checks.read(band_checks.write((check,)))  # type: ignore[misc]

    assert again.fault == "nick, tear"


@pytest.mark.parametrize("cell", ["sound", "2026-10-01 Alma", "soon Alma: sound", "2026 A: gone"])
def test_what_is_no_check_is_told(cell: str) -> None:
    """The mend shows how a check is written."""
    told = band_checks.read(cell)

    assert isinstance(told, Unread)
    assert "colon" in told.mend
