"""Closed sets as people write them: sex, latex reaction, standing, days, yes and no, materials."""

import re
from collections.abc import Mapping, Sequence
from enum import StrEnum
from typing import TypeVar

from halewright.core.people.kit import Material, Phase, Shape
from halewright.core.people.person import LatexReaction, Sex, Standing, Weekday
from halewright.files import quantities, tables

E = TypeVar("E", bound=StrEnum)

UNKNOWN = ("not known", "unknown", "?", "not sure", "unsure", "don't know", "dont know")
_NOTHING = {"none", "no", "nothing", "none known", "nil", "no known allergies", "nka"}

_SEX: dict[Sex, tuple[str, ...]] = {
    Sex.FEMALE: ("female", "f", "woman", "w", "lady"),
    Sex.MALE: ("male", "m", "man", "gentleman"),
    Sex.NOT_STATED: ("not stated", "prefer not to say", "x", "other", *UNKNOWN),
}
_LATEX: dict[LatexReaction, tuple[str, ...]] = {
    LatexReaction.NONE: ("none", "no", "n", "none known", "no reaction", "nil"),
    LatexReaction.SKIN: ("skin", "skin reaction", "rash", "itch", "itchy", "red skin", "contact"),
    LatexReaction.IMMEDIATE: ("immediate", "severe", "anaphylaxis", "wheeze", "swelling", "hives"),
    LatexReaction.NOT_KNOWN: UNKNOWN,
}
_STANDING: dict[Standing, tuple[str, ...]] = {
    Standing.SEATED_ONLY: (
        "seated only",
        "seated",
        "no",
        "n",
        "sits",
        "sitting only",
        "chair only",
    ),
    Standing.TWO_HANDS: ("two hands", "both hands", "2 hands", "holding with two hands"),
    Standing.ONE_HAND: ("one hand", "1 hand", "holding with one hand"),
    Standing.FINGERTIPS: ("fingertips", "fingertip", "finger tips", "light touch"),
    Standing.NO_SUPPORT: ("no support", "without support", "free", "hands free", "unsupported"),
    Standing.NOT_KNOWN: UNKNOWN,
}
_MATERIAL: dict[Material, tuple[str, ...]] = {
    Material.LATEX: ("latex", "natural rubber", "rubber", "natural rubber latex"),
    Material.LATEX_FREE: ("latex free", "non latex", "no latex", "tpe", "synthetic"),
    Material.NOT_KNOWN: UNKNOWN,
}
_SHAPE: dict[Shape, tuple[str, ...]] = {
    Shape.STRIP: ("strip", "flat", "open", "flat band", "straight"),
    Shape.LOOP: ("loop", "ring", "closed", "closed loop", "mini loop"),
}
_PHASE: dict[Phase, tuple[str, ...]] = {
    Phase.LOADING: ("loading", "drawing out", "out"),
    Phase.UNLOADING: ("unloading", "letting back", "back"),
}
_DAYS: dict[Weekday, tuple[str, ...]] = {
    day: (day.value, day.value[:3], day.value[:4], f"{day.value}s") for day in Weekday
}
_YES = {"yes", "y", "true", "1", "x", "✓", "ja"}
_NO = {"no", "n", "false", "0", "✗"}


def _lookup(value: tables.Value, *, known: Mapping[E, Sequence[str]]) -> E | None:
    spelt = re.sub(r"[\s_\-]+", " ", quantities.text(value).casefold().replace("’", "'")).strip(
        " ."
    )
    return next((member for member, words in known.items() if spelt in words), None)


def sex(value: tables.Value, unit: str = "") -> Sex | quantities.Unread:
    """Read sex as the test norms use it."""
    del unit
    mend = "Write female, male or not stated (it is used for test norms only)."
    return _lookup(value, known=_SEX) or quantities.Unread(mend)


def latex(value: tables.Value, unit: str = "") -> LatexReaction | quantities.Unread:
    """Read a latex reaction; a bare yes is refused, since the kind matters."""
    del unit
    mend = "Write immediate, skin, none or not known: which kind of reaction matters."
    return _lookup(value, known=_LATEX) or quantities.Unread(mend)


def standing(value: tables.Value, unit: str = "") -> Standing | quantities.Unread:
    """Read the support with which a person may stand; a bare yes is refused."""
    del unit
    mend = (
        "Write seated only, two hands, one hand, fingertips, no support or not known: "
        "the support matters."
    )
    return _lookup(value, known=_STANDING) or quantities.Unread(mend)


def material(value: tables.Value, unit: str = "") -> Material | quantities.Unread:
    """Read a band's material."""
    del unit
    mend = "Write latex, latex-free or not known (not known counts as latex)."
    return _lookup(value, known=_MATERIAL) or quantities.Unread(mend)


def shape(value: tables.Value, unit: str = "") -> Shape | quantities.Unread:
    """Read a band's shape."""
    del unit
    return _lookup(value, known=_SHAPE) or quantities.Unread("Write strip or loop.")


def phase(value: tables.Value, unit: str = "") -> Phase | quantities.Unread:
    """Read whether a band was drawn out or let back."""
    del unit
    return _lookup(value, known=_PHASE) or quantities.Unread("Write loading or unloading.")


def weekdays(value: tables.Value, unit: str = "") -> tuple[Weekday, ...] | quantities.Unread:
    """Read days in any order and return them in the week's; “all” and “both” mean every day."""
    del unit
    spelt = quantities.text(value).casefold()
    if spelt.strip() in ("all", "both", "every", "any", "every day"):
        return ()
    found = []
    for part in re.split(r"[;,/&+\s]+|\band\b", spelt):
        if part in ("", "and", "only"):
            continue
        day = _lookup(part, known=_DAYS)
        if day is None:
            return quantities.Unread(
                "Write the days by name, as Tuesday; Friday, or leave it empty."
            )
        found.append(day)
    return tuple(day for day in Weekday if day in found)


def yes_or_no(value: tables.Value, unit: str = "") -> bool | quantities.Unread:
    """Read yes or no."""
    del unit
    spelt = quantities.text(value).casefold().strip(" .")
    if spelt in _YES or spelt in _NO:
        return spelt in _YES
    return quantities.Unread("Write yes or no.")


def go_ahead(value: tables.Value, unit: str = "") -> bool | quantities.Unread:
    """Read the answer to an ask-first flag: go ahead or wait."""
    del unit
    spelt = re.sub(r"[\s_\-]+", " ", quantities.text(value).casefold()).strip(" .")
    if spelt in ("go ahead", "goahead", "go", *_YES):
        return True
    if spelt in ("wait", "hold", "not yet", *_NO):
        return False
    return quantities.Unread("Write go ahead or wait.")


def listed(value: tables.Value, unit: str = "") -> tuple[str, ...]:
    """Read a list separated by semicolons, commas or line ends; “none” is an empty one."""
    del unit
    parts = (part.strip() for part in re.split(r"[;,\n]", quantities.text(value)))
    return tuple(part for part in parts if part and part.casefold() not in _NOTHING)


def needs(value: tables.Value, unit: str = "") -> str:
    """Read a need in words; “none” and “no” are none."""
    del unit
    spelt = quantities.text(value)
    return "" if spelt.casefold().strip(" .") in _NOTHING else spelt
