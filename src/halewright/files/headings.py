"""Headings as people write them, and the one field that each of them means."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from openpyxl.utils import get_column_letter

from halewright.core.errors import Problem
from halewright.files import tables

_UNITS = {
    "m": "m", "metres": "m", "metre": "m", "meters": "m", "cm": "cm", "centimetres": "cm",
    "mm": "mm", "kg": "kg", "kgs": "kg", "kilos": "kg", "kilograms": "kg",
    "lb": "lb", "lbs": "lb", "pounds": "lb", "st": "st", "stone": "st", "stones": "st",
    "ft": "ft", "feet": "ft", "in": "in", "inches": "in", "pt": "pt", "point": "pt",
    "n": "n", "newton": "n", "newtons": "n",
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """What a column can mean: `names` win over `weak` ones; `joins` lets several columns add up.

    `units` are the units which may stand after the name, as in “Height (cm)”.
    """

    key: str
    names: tuple[str, ...]
    weak: tuple[str, ...] = ()
    units: tuple[str, ...] = ()
    joins: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Claim:
    """One column that means a field; `unit` is "" unless the heading names one."""

    field: Field
    place: int
    heading: str
    unit: str
    strong: bool

    @property
    def column(self) -> str:
        """The column as a problem names it: its letter and its heading."""
        return column_name(self.place, self.heading)


def column_name(place: int, heading: str) -> str:
    """Return the letter of a column counted from 0, with its heading when it has one."""
    letter = get_column_letter(place + 1)
    return f"{letter} ({heading})" if heading else letter


@lru_cache(maxsize=4096)  # every row is tried as a headings row, against all known names
def plain(text: str) -> str:
    """Return a heading's letters and digits in small letters, which is all that counts."""
    return "".join(sign for sign in text.casefold() if sign.isalnum())


def claim(fields: Sequence[Field], *, heading: str, place: int) -> Claim | None:
    """Return what a heading means, or None for one that no field knows."""
    spelt = plain(heading)
    for field in fields:
        for unit_word, unit in (("", ""), *_UNITS.items()):
            if unit and unit not in field.units:
                continue
            name = spelt.removesuffix(unit_word) if unit_word else spelt
            if unit_word and name == spelt:
                continue
            for strong, names in ((True, field.names), (False, field.weak)):
                if name and name in {plain(known) for known in names}:
                    return Claim(
                        field=field, place=place, heading=heading, unit=unit, strong=strong
                    )
    return None


def claims_of(
    fields: Sequence[Field], row: tables.Row
) -> tuple[tuple[Claim, ...], tuple[tuple[int, str], ...]]:
    """Return the claims of a row of headings and the columns that mean nothing known."""
    claims, unknown = [], []
    for place, value in enumerate(row.values):
        if value is None:
            continue
        found = claim(fields, heading=str(value), place=place)
        if found is None:
            unknown.append((place, str(value)))
        else:
            claims.append(found)
    return tuple(claims), tuple(unknown)


def settled(
    claims: Sequence[Claim], *, sheet: tables.Sheet, row: int
) -> tuple[tuple[Claim, ...], tuple[Claim, ...], tuple[Problem, ...]]:
    """Return the claims that stand, those outdone by a better name, and the contested ones."""
    stand: list[Claim] = []
    outdone: list[Claim] = []
    problems: list[Problem] = []
    for field in dict.fromkeys(item.field for item in claims):
        rivals = [item for item in claims if item.field == field]
        best = [item for item in rivals if item.strong] or rivals
        if field.joins:
            best = rivals
        outdone += [item for item in rivals if item not in best]
        stand += best if field.joins else best[:1]
        if len(best) > 1 and not field.joins:
            both = " and ".join(item.column for item in best)
            problems.append(
                Problem(
                    file=sheet.file,
                    sheet=sheet.name,
                    row=row,
                    column=best[1].column,
                    read=best[1].heading,
                    mend=f"Columns {both} both mean “{field.names[0]}”. Keep one, rename the rest.",
                )
            )
    return tuple(stand), tuple(outdone), tuple(problems)
