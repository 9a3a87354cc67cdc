from dataclasses import replace
from datetime import date

from halewright.core.people import wear
from halewright.core.people.kit import Band, BandCheck, BandLabel, CheckResult, Material

ON = date(2026, 12, 1)
NEW = Band(
    label=BandLabel("oak"),
    material=Material.LATEX,
    first_used_on=date(2026, 9, 15),
    checked_on=date(2026, 11, 20),
)


def test_a_sound_young_band_has_nothing_to_say() -> None:
    """Two months in use and looked at eleven days ago: no warning."""
    assert wear.warnings(NEW, on=ON) == ()


def test_age_is_told_from_six_months_and_by_the_local_rule() -> None:
    """Six months ask for a close look, the local life for a new band; a day short is younger."""
    half = replace(NEW, first_used_on=date(2026, 6, 1))

    assert "look closely" in wear.warnings(half, on=ON)[0]
    assert wear.warnings(replace(NEW, first_used_on=date(2026, 6, 2)), on=ON) == ()
    assert "replace it" in wear.warnings(half, on=ON, life_months=6)[0]


def test_an_open_fault_comes_first() -> None:
    """What was found last stands before age; an older fault that was found sound since does not."""
    nick = BandCheck(on=date(2026, 11, 2), by="Alma", result=CheckResult.WATCH, fault="nick")
    since = BandCheck(on=date(2026, 11, 9), by="Alma", result=CheckResult.SOUND)

    assert "nick" in wear.warnings(replace(NEW, checks=(nick,)), on=ON)[0]
    assert wear.warnings(replace(NEW, checks=(nick, since)), on=ON) == ()


def test_what_is_not_recorded_is_said() -> None:
    """Neither a first day nor a check: both are told."""
    bare = Band(label=BandLabel("oak"), material=Material.LATEX)

    told = " ".join(wear.warnings(bare, on=ON))
    assert "age is not known" in told
    assert "No check is recorded" in told


def test_a_check_is_due_after_three_months() -> None:
    """Three months to the day ask for another look; a day less does not."""
    assert "check it again" in wear.warnings(replace(NEW, checked_on=date(2026, 9, 1)), on=ON)[0]
    assert wear.warnings(replace(NEW, checked_on=date(2026, 9, 2)), on=ON) == ()


def test_a_retired_band_says_only_that() -> None:
    """From the day of retirement on, and not before it."""
    gone = replace(NEW, retired_on=ON)

    assert wear.is_retired(gone, on=ON)
    assert not wear.is_retired(gone, on=date(2026, 11, 30))
    assert wear.warnings(gone, on=ON) == ("Retired: it is never handed out.",)
