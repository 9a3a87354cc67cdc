"""The run sheet as plain text for a terminal or a plain printer."""

import textwrap
from collections.abc import Iterator

from halewright.core.catalogue.words import SetUp
from halewright.core.session import runsheet
from halewright.core.session.outline import Purpose
from halewright.core.session.runsheet import Item, Remark, RunSheet, Section, Way

PURPOSES = {
    Purpose.HANDLING: "First session with bands: handling and anchor drill, no load",
    Purpose.STRENGTH: "Strength session",
    Purpose.TEST: "Test session",
}
SET_UPS = {
    SetUp.NONE: "no band",
    SetUp.UNDER_FEET: "band under the feet",
    SetUp.IN_HANDS: "band in the hands",
    SetUp.ACROSS_THIGHS: "band across the thighs",
    SetUp.ROUND_THIGHS: "loop round the thighs",
    SetUp.UNDER_THIGHS: "band under the thighs",
    SetUp.BEHIND_BACK: "band behind the back",
    SetUp.CHAIR: "band on the chair",
}


def clock(ms: int) -> str:
    """Return a time from the start of the slot as minutes and seconds."""
    return f"{ms // 60_000}:{ms // 1000 % 60:02d}"


def heading(sheet: RunSheet) -> str:
    """Return the sheet's title line."""
    day = f"{sheet.on:%A} {sheet.on.day} {sheet.on:%B %Y}, {sheet.starts_at:%H:%M}"
    return f"Week {sheet.week}, session {sheet.number}. {day}"


def facts(sheet: RunSheet) -> str:
    """Return what kind of session it is, in one line."""
    parts = [PURPOSES[sheet.purpose], f"{sheet.slot_ms // 60_000} minutes"]
    if sheet.easier_week:
        parts.append("easier week")
    if sheet.latex_free:
        parts.append("LATEX-FREE bands only")
    return ". ".join(parts) + "."


def text(sheet: RunSheet, *, width: int = 88) -> str:
    """Return the whole sheet as text, wrapped to a width in characters."""
    lines = [heading(sheet), facts(sheet), ""]
    if sheet.expected:
        lines += textwrap.wrap(
            f"Expected ({len(sheet.expected)}): {', '.join(sheet.expected)}", width
        )
    for notice in sheet.notices:
        who = f"{notice.who}: " if notice.who else ""
        lines += textwrap.wrap(f"! {who}{notice.words}", width, subsequent_indent="  ")
    for section in sheet.sections:
        lines += ["", *_section(section, width)]
    for title, remarks in (
        ("WATCH", runsheet.cares(sheet)),
        ("WHY NOT THE GROUP'S WAY", runsheet.reasons(sheet)),
    ):
        lines += ["", title] if remarks else []
        for remark in remarks:
            lines += textwrap.wrap(told(remark), width, subsequent_indent="  ")
    return "\n".join(lines) + "\n"


def told(remark: Remark) -> str:
    """Return a remark as one line, with the stations it is about."""
    where = f" (station {', '.join(map(str, remark.stations))})" if remark.stations else ""
    return f"{remark.who}{where}: {remark.words}"


def _section(section: Section, width: int) -> Iterator[str]:
    span = f"{clock(section.start_ms)}–{clock(section.end_ms)}"
    yield f"{span:>12}  {section.title.upper()}"
    if section.words:
        yield from textwrap.wrap(
            section.words, width, initial_indent="   ", subsequent_indent="   "
        )
    for item in section.items:
        yield from _item(item, width)


def _item(item: Item, width: int) -> Iterator[str]:
    number = f"{item.number}. " if item.number else "– "
    sides = f", {item.sides}" if item.sides else ""
    yield f"   {number}{item.title} ({SET_UPS[item.set_up]}{sides})"
    if item.number is None:
        return
    indent = "      "
    if item.set_up_how:
        yield from _wrapped(f"Band: {item.set_up_how}", width, indent)
    for way in item.ways:
        yield from _wrapped(_way(way), width, indent)
    yield from _wrapped(f"Safety: {item.safety}", width, indent)


def _way(way: Way) -> str:
    who = f" ({', '.join(way.who)})" if way.who else ""
    what = f"{way.movement}, {way.option.lower()}" if way.movement else way.option
    return f"{what}{who}: {way.how}" if way.how else f"{what}{who}"


def _wrapped(words: str, width: int, indent: str) -> Iterator[str]:
    yield from textwrap.wrap(words, width, initial_indent=indent, subsequent_indent=indent + "  ")
