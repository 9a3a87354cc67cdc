"""Dates, sizes, forces and plain numbers from the many ways in which people write them."""

import re
from dataclasses import dataclass
from datetime import date, time

from halewright.core import units
from halewright.core.people.person import Birth
from halewright.files.tables import Value

# Plausible ranges, common practice: outside them a slip of the pen is likelier than the value.
STATURE_RANGE_M = (1.2, 2.1)
MASS_RANGE_KG = (30.0, 200.0)
PRINT_RANGE_PT = (8.0, 72.0)
AGE_RANGE_YEARS = (40, 110)
FIRST_BIRTH_YEAR = 1900

_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_DATE_MEND = "Write the date as day, month, year: 5 Mar 2026, 5/3/2026 or 2026-03-05."
_BIRTH_MEND = "Write the date of birth as 5 Mar 1941 or 5/3/1941, or the year alone: 1941."
_STATURE_MEND = "Write the stature as 1.62 m, 162 cm or 5 ft 4 (between 1.2 and 2.1 m)."
_MASS_MEND = "Write the mass as 68 kg, 11 st 4 or 150 lb (between 30 and 200 kg)."
_NUMBER = r"(\d+(?:[.,]\d+)?)"
_STONE = rf"{_NUMBER} ?(?:stones?|sts?)\.?(?: ?{_NUMBER} ?(?:lbs?|pounds?)?)?"
_FEET = rf"(\d+) ?(?:ft|foot|feet|')(?: ?{_NUMBER}? ?(½|1/2)? ?(?:ins?|inch|inches|\"|'')?)?"


@dataclass(frozen=True, slots=True)
class Unread:
    """A value that was not understood, and how to mend it."""

    mend: str


def text(value: Value, unit: str = "") -> str:
    """Return a value as a person would type it: whole numbers without a point, ISO dates."""
    del unit  # part of every parser's shape
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    return value.isoformat() if isinstance(value, date | time) else str(value)


def number_text(value: float | None) -> str:
    """Return a number such that reading it gives the very same float; "" for None."""
    return "" if value is None else text(float(value))


def day(value: Value, unit: str = "") -> date | Unread:
    """Read a date; day first, month first only where the second number cannot be a month."""
    del unit
    if isinstance(value, date):
        return value
    return _day(text(value), century=2000) or Unread(_DATE_MEND)


def birth(value: Value, unit: str = "") -> Birth | Unread:
    """Read a date of birth, a month and year, or a year; two figures mean the 1900s."""
    del unit
    if isinstance(value, date):
        return Birth(year=value.year, on=value)
    spelt = text(value)
    on = _day(spelt, century=1900)
    if on is not None:
        return Birth(year=on.year, on=on)
    year = re.fullmatch(r"(?:c\.?|about|around|circa|born)?\s*(\d{4})\??", spelt.casefold())
    month = re.fullmatch(r"(\d{1,2})[-/. ](\d{4})", spelt)
    named = re.fullmatch(r"([a-z]{3,9})\.?[-/, ]*(\d{4}|\d{2})", spelt.casefold())
    if year:
        return Birth(year=int(year[1]))
    if month and 1 <= int(month[1]) <= 12:
        return Birth(year=int(month[2]))
    if named and _month(named[1]):
        return Birth(year=_full_year(named[2], century=1900))
    return Unread(_BIRTH_MEND)


def clock(value: Value, unit: str = "") -> time | Unread:
    """Read a time of day: 10:30, 10.30, 2 pm, 2:15pm."""
    del unit
    if isinstance(value, time):
        return value
    found = re.fullmatch(r"(\d{1,2})(?:[:.](\d{2}))?(?::\d{2})? ?(am|pm)?", text(value).casefold())
    if found and (found[2] or found[3]):
        hour = int(found[1]) % 12 + (12 if found[3] == "pm" else 0) if found[3] else int(found[1])
        minute = int(found[2] or 0)
        if hour < 24 and minute < 60:
            return time(hour, minute)
    return Unread("Write the time as 10:30 or 2:15 pm.")


def stature_m(value: Value, unit: str = "") -> float | Unread:
    """Read a stature: metres, centimetres, or feet and inches (1 in = 0.0254 m exactly)."""
    spelt = _spelt(value)
    both = re.fullmatch(r"(\d) ?m ?(\d{2})(?: ?cm)?", spelt)
    feet = re.fullmatch(_FEET, spelt)
    single = re.fullmatch(rf"{_NUMBER} ?(m|metres?|meters?|cms?|ins?|inch|inches|\")?", spelt)
    read_m: float | None = None
    if both:
        read_m = (int(both[1]) * 100 + int(both[2])) / 100
    elif feet:
        inches = _float(feet[2] or "0") + (0.5 if feet[3] else 0.0)
        read_m = (int(feet[1]) * 12 + inches) * units.INCH_M if inches < 12 else None
    elif single:
        read_m = _single_stature_m(_float(single[1]), said=single[2] or unit)
    low_m, high_m = STATURE_RANGE_M
    if read_m is None or not low_m <= read_m <= high_m:
        return Unread(_STATURE_MEND)
    # To a hundredth of a millimetre: 61 in is 1.5494 m, not 1.5493999999999999.
    return round(read_m, 5)


def mass_kg(value: Value, unit: str = "") -> float | Unread:
    """Read a mass: kilograms, stones and pounds, or pounds (1 lb = 0.45359237 kg exactly)."""
    spelt = _spelt(value)
    stone = re.fullmatch(_STONE, spelt)
    single = re.fullmatch(rf"{_NUMBER} ?(kgs?|kilos?|kilograms?|lbs?|pounds?)?", spelt)
    read_kg: float | None = None
    if stone:
        pounds = _float(stone[2] or "0")
        read_kg = (_float(stone[1]) * 14 + pounds) * units.POUND_KG if pounds < 14 else None
    elif single:
        said = single[2] or unit or "kg"
        size = _float(single[1])
        if said.startswith(("lb", "pound")):
            read_kg = size * units.POUND_KG
        elif said == "st":
            # “11.4” under a heading in stones may be 11 st 4 or 11.4 st: only a whole one is plain.
            read_kg = size * units.STONE_KG if size.is_integer() else None
        else:
            read_kg = size
    low_kg, high_kg = MASS_RANGE_KG
    return read_kg if read_kg is not None and low_kg <= read_kg <= high_kg else Unread(_MASS_MEND)


def length_m(value: Value, unit: str = "") -> float | Unread:
    """Read the length or width of a band: metres unless the cell or heading says otherwise."""
    found = re.fullmatch(rf"{_NUMBER} ?(m|metres?|cms?|mm|ins?|inches|ft|feet)?", _spelt(value))
    if found:
        said = found[2] or unit or "m"
        size = _float(found[1])
        if said.startswith("c"):
            read_m = size / 100
        elif said == "mm":
            read_m = size / 1000
        elif said.startswith("i"):
            read_m = size * units.INCH_M
        else:
            read_m = size * units.FOOT_M if said.startswith("f") else size
        if 0 < read_m <= 10:
            return read_m
    return Unread("Write the length with its unit, as 2 m or 15 cm (more than 0, at most 10 m).")


def width_m(value: Value, unit: str = "") -> float | Unread:
    """Read the width of a band, at most 0.5 m, so that a bare 15 is not taken for metres."""
    read_m = length_m(value, unit)
    if isinstance(read_m, float) and read_m <= 0.5:
        return read_m
    return Unread("Write the width with its unit, as 15 cm or 0.15 m (at most 0.5 m).")


def force_n(value: Value, unit: str = "") -> float | Unread:
    """Read a scale: newtons, or kilograms times 9.80665 m/s² where the heading says so."""
    found = re.fullmatch(rf"{_NUMBER} ?(n|newtons?|kgs?)?", _spelt(value))
    if found:
        size = _float(found[1])
        said = found[2] or unit or "n"
        read_n = size * units.STANDARD_GRAVITY_M_PER_S2 if said.startswith("k") else size
        if 0 < read_n <= 500:
            return read_n
    return Unread("Write the reading of the scale as a number above 0 and at most 500 N.")


def print_pt(value: Value, unit: str = "") -> float | Unread:
    """Read a print size in points; “large” is 18 and “giant” 24 (print guidance, needs §4.6)."""
    del unit
    spelt = _spelt(value).removesuffix(" print")
    named = {"large": 18.0, "giant": 24.0, "ordinary": 14.0, "normal": 14.0}
    if spelt in named:
        return named[spelt]
    found = re.fullmatch(rf"{_NUMBER} ?(?:pt|points?)?", spelt)
    low_pt, high_pt = PRINT_RANGE_PT
    if found and low_pt <= _float(found[1]) <= high_pt:
        return _float(found[1])
    return Unread("Write the print size in points, as 18, or “large” or “giant”.")


def count(value: Value, unit: str = "") -> int | Unread:
    """Read a whole number, 0 or more."""
    del unit
    spelt = text(value)
    return int(spelt) if re.fullmatch(r"\d{1,4}", spelt) else Unread("Write a whole number.")


def _single_stature_m(size: float, *, said: str) -> float | None:
    if said.startswith("c"):
        return size / 100
    if said.startswith("i") or said == '"':
        return size * units.INCH_M
    if said == "ft":
        # “5.4” under a heading in feet may be 5 ft 4 or 5.4 ft: only a whole one is plain.
        return size * 12 * units.INCH_M if size.is_integer() else None
    if said.startswith("m") or size < 3:
        return size
    return size / 100 if size >= 100 else None


def _day(spelt: str, *, century: int) -> date | None:
    plain = re.sub(r"[T ]\d{2}:\d{2}(:\d{2})?$", "", spelt.strip()).casefold()
    plain = re.sub(r"^(mon|tue|wed|thu|fri|sat|sun)[a-z]*\.?,? +", "", plain)
    iso = re.fullmatch(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})", plain)
    figures = re.fullmatch(r"(\d{1,2}) ?[-/. ] ?(\d{1,2}) ?[-/. ] ?(\d{4}|\d{2})", plain)
    named = re.fullmatch(
        r"(\d{1,2})(?:st|nd|rd|th)?[-/., ]*(?:of )?([a-z]{3,9})\.?[-/, ]*(\d{4}|\d{2})", plain
    )
    named_first = re.fullmatch(r"([a-z]{3,9})\.? (\d{1,2})(?:st|nd|rd|th)?,? +(\d{4})", plain)
    if iso:
        return _made(int(iso[1]), int(iso[2]), int(iso[3]))
    if figures:
        year, first, second = _full_year(figures[3], century=century), figures[1], figures[2]
        return _made(year, int(second), int(first)) or (
            _made(year, int(first), int(second)) if int(second) > 12 else None
        )
    if named:
        return _made(_full_year(named[3], century=century), _month(named[2]), int(named[1]))
    if named_first:
        return _made(int(named_first[3]), _month(named_first[1]), int(named_first[2]))
    return None


def _made(year: int, month: int, of_month: int) -> date | None:
    try:
        return date(year, month, of_month)
    except ValueError:
        return None


def _month(name: str) -> int:
    """Return the number of a month by its first three letters, 0 where it is none."""
    return _MONTHS.index(name[:3]) + 1 if name[:3] in _MONTHS else 0


def _full_year(figures: str, *, century: int) -> int:
    return int(figures) if len(figures) == 4 else century + int(figures)


def _spelt(value: Value) -> str:
    """Return text in small letters, with one kind of quote and single spaces."""
    plain = text(value).casefold()
    for sign in "’′‘":
        plain = plain.replace(sign, "'")
    for sign in "”″“":
        plain = plain.replace(sign, '"')
    return re.sub(r"\s+", " ", plain).strip().rstrip(".")


def _float(figures: str) -> float:
    return float(figures.replace(",", "."))
