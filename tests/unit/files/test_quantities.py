from datetime import date, time

import pytest

from halewright.core.people.person import Birth
from halewright.files import quantities
from halewright.files.quantities import Unread


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("2026-03-05", date(2026, 3, 5)),
        ("2026/03/05", date(2026, 3, 5)),
        ("5/3/2026", date(2026, 3, 5)),
        ("05.03.2026", date(2026, 3, 5)),
        ("5-3-26", date(2026, 3, 5)),
        ("3/25/2026", date(2026, 3, 25)),
        ("5 Mar 2026", date(2026, 3, 5)),
        ("5th March 2026", date(2026, 3, 5)),
        ("5-Mar-26", date(2026, 3, 5)),
        ("Thursday 5 March 2026", date(2026, 3, 5)),
        ("March 5, 2026", date(2026, 3, 5)),
        ("2026-03-05 00:00:00", date(2026, 3, 5)),
        (date(2026, 3, 5), date(2026, 3, 5)),
    ],
)
def test_a_date_is_read_day_first(written: str, meant: date) -> None:
    """Every usual way of writing a date is read, the month first only where it must be."""
    assert quantities.day(written) == meant


@pytest.mark.parametrize("written", ["31/4/2026", "13/13/2026", "next week", "2026", "5 Foo 2026"])
def test_a_date_that_cannot_be_is_not_read(written: str) -> None:
    """Days that no month has, and words, are refused with an example."""
    read = quantities.day(written)

    assert isinstance(read, Unread)
    assert "2026-03-05" in read.mend


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("5 Mar 1941", Birth(year=1941, on=date(1941, 3, 5))),
        ("5/3/41", Birth(year=1941, on=date(1941, 3, 5))),
        ("March 1941", Birth(year=1941)),
        ("Mar-41", Birth(year=1941)),
        ("03/1941", Birth(year=1941)),
        (1941, Birth(year=1941)),
        (1941.0, Birth(year=1941)),
        ("about 1941", Birth(year=1941)),
        ("1941?", Birth(year=1941)),
    ],
)
def test_a_birth_is_a_date_or_a_year(written: str | float, meant: Birth) -> None:
    """Two figures of a year mean the 1900s; a month without a day keeps the year alone."""
    assert quantities.birth(written) == meant


def test_an_age_is_no_date_of_birth() -> None:
    """An age goes out of date, so 78 is refused and not taken for a year."""
    assert isinstance(quantities.birth(78), Unread)


@pytest.mark.parametrize(
    ("written", "unit", "meant_m"),
    [
        (1.62, "", 1.62),
        (162, "", 1.62),
        ("162", "", 1.62),
        ("162cm", "", 1.62),
        ("1.62 m", "", 1.62),
        ("1,62", "", 1.62),
        ("1m62", "", 1.62),
        # 5 ft 4 in = 64 in = 64 × 0.0254 m = 1.6256 m (1 ft = 0.3048 m exactly, 1959 agreement)
        ("5 ft 4", "", 1.6256),
        ("5ft4", "", 1.6256),
        ("5'4\"", "", 1.6256),
        ("5’ 4”", "", 1.6256),
        ("5 feet 4 inches", "", 1.6256),
        ("64 in", "", 1.6256),
        (64, "in", 1.6256),
        # 5 ft 3½ in = 63.5 × 0.0254 m = 1.6129 m
        ("5 ft 3½", "", 1.6129),
        ("5 ft 3 1/2", "", 1.6129),
        ("5 ft 3.5 in", "", 1.6129),
        # 5 ft = 60 × 0.0254 m = 1.524 m
        (5, "ft", 1.524),
        ("5 ft", "", 1.524),
        (162, "cm", 1.62),
    ],
)
def test_a_stature_is_read_in_any_unit(written: str | float, unit: str, meant_m: float) -> None:
    """Metres, centimetres, feet and inches come out as the same metres."""
    assert quantities.stature_m(written, unit) == pytest.approx(meant_m, abs=1e-12)


@pytest.mark.parametrize(
    ("written", "unit"),
    [("64", ""), ("5.4", "ft"), ("5 ft 13", ""), ("tall", ""), (16.2, ""), ("2.4 m", ""), (90, "")],
)
def test_a_doubtful_stature_is_not_read(written: str | float, unit: str) -> None:
    """A stature that may mean two things, or that nobody has, is refused."""
    assert isinstance(quantities.stature_m(written, unit), Unread)


@pytest.mark.parametrize(
    ("written", "unit", "meant_kg"),
    [
        (68, "", 68.0),
        ("68 kg", "", 68.0),
        ("68,5kg", "", 68.5),
        # 11 st 4 lb = 11 × 14 + 4 = 158 lb; 158 × 0.45359237 kg = 71.66759446 kg
        ("11 st 4", "", 71.66759446),
        ("11st 4lb", "", 71.66759446),
        ("11 stone 4 pounds", "", 71.66759446),
        ("11 st 4", "kg", 71.66759446),
        # 150 lb = 150 × 0.45359237 kg = 68.0388555 kg
        ("150 lb", "", 68.0388555),
        ("150lbs", "", 68.0388555),
        (150, "lb", 68.0388555),
        # 11 st = 154 lb = 69.85322498 kg
        ("11 stone", "", 69.85322498),
        (11, "st", 69.85322498),
    ],
)
def test_a_mass_is_read_in_any_unit(written: str | float, unit: str, meant_kg: float) -> None:
    """Kilograms, stones and pounds come out as the same kilograms."""
    assert quantities.mass_kg(written, unit) == pytest.approx(meant_kg, abs=1e-9)


@pytest.mark.parametrize(
    ("written", "unit"),
    [(11.4, ""), (11.4, "st"), ("11 st 14", ""), ("heavy", ""), (250, ""), ("3 kg", "")],
)
def test_a_doubtful_mass_is_not_read(written: str | float, unit: str) -> None:
    """11.4 may be stones or a slip; a mass outside 30 to 200 kg is asked again."""
    assert isinstance(quantities.mass_kg(written, unit), Unread)


@pytest.mark.parametrize(
    ("written", "unit", "meant_n"),
    [(20, "n", 20.0), ("20.5 N", "", 20.5), (2, "kg", 19.6133), ("2 kg", "", 19.6133)],
)
def test_a_scale_in_kilograms_becomes_newtons(
    written: str | float, unit: str, meant_n: float
) -> None:
    """2 kg on a scale is 2 × 9.80665 = 19.6133 N."""
    assert quantities.force_n(written, unit) == pytest.approx(meant_n, abs=1e-9)


@pytest.mark.parametrize(
    ("written", "unit", "meant_m"),
    [(2, "", 2.0), ("200 cm", "", 2.0), (15, "cm", 0.15), ("6 ft", "", 1.8288), (50, "mm", 0.05)],
)
def test_a_length_is_read_in_any_unit(written: str | float, unit: str, meant_m: float) -> None:
    """A bare length is in metres; 6 ft = 72 × 0.0254 m = 1.8288 m."""
    assert quantities.length_m(written, unit) == pytest.approx(meant_m, abs=1e-12)


def test_a_bare_width_of_fifteen_is_asked_again() -> None:
    """Nobody has a band 15 m wide: centimetres were meant, but nobody said so."""
    assert isinstance(quantities.width_m(15), Unread)
    assert quantities.width_m(15, "cm") == 0.15


@pytest.mark.parametrize(
    ("written", "meant_pt"), [(18, 18.0), ("18pt", 18.0), ("large", 18.0), ("Large print", 18.0)]
)
def test_a_print_size_is_in_points(written: str | float, meant_pt: float) -> None:
    """“Large” is the 18 points that large print begins with."""
    assert quantities.print_pt(written) == meant_pt


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("10:30", time(10, 30)),
        ("10.30", time(10, 30)),
        ("2 pm", time(14, 0)),
        ("12:15pm", time(12, 15)),
        ("12 am", time(0, 0)),
        (time(9, 0), time(9, 0)),
    ],
)
def test_a_time_of_day_is_read(written: str, meant: time) -> None:
    """Clock times with a colon or a point, and with am or pm, are read."""
    assert quantities.clock(written) == meant


@pytest.mark.parametrize("written", ["10", "25:00", "10:75", "noon"])
def test_half_a_time_is_not_read(written: str) -> None:
    """A bare 10 does not say which half of the day."""
    assert isinstance(quantities.clock(written), Unread)
