"""The run sheet as one HTML file that needs nothing else, for printing or a tablet."""

from collections.abc import Iterator
from html import escape

from halewright.core.session import runsheet
from halewright.core.session.runsheet import Item, Remark, RunSheet, Section, Way
from halewright.media import sheet_text

_STYLE = """
@page { size: A4; margin: 14mm }
body { font: 15pt/1.35 "Atkinson Hyperlegible", Verdana, sans-serif; color: #1d2b34;
  background: #f6f1ea; max-width: 46rem; margin: 1rem auto; padding: 0 1rem }
h1 { font-size: 22pt; color: #0f4c4f; margin: 0 } h2 { font-size: 17pt; color: #0f4c4f;
  border-top: 2px solid #0f4c4f; padding-top: .4rem; margin: 1.1rem 0 .3rem; break-after: avoid }
h2 span { font-variant-numeric: tabular-nums; float: right } h3 { margin: .7rem 0 .1rem }
article { break-inside: avoid } ul { margin: .1rem 0 .1rem 1.2rem; padding: 0 }
.notice, .care { border-left: 6px solid #8a5a00; padding-left: .6rem; margin: .3rem 0 }
.safety { font-weight: bold } p { margin: .15rem 0 }
@media print { body { background: none; font-size: 14pt } }
"""


def page(sheet: RunSheet) -> str:
    """Return the sheet as a whole page; every word of people's is escaped."""
    return "".join(
        [
            "<!doctype html><html lang='en-GB'><head><meta charset='utf-8'>",
            "<meta name='viewport' content='width=device-width'>",
            f"<title>Run sheet</title><style>{_STYLE}</style></head><body>",
            f"<h1>{escape(sheet_text.heading(sheet))}</h1>",
            f"<p>{escape(sheet_text.facts(sheet))}</p>",
            *_people(sheet),
            *(part for section in sheet.sections for part in _section(section)),
            *_remarks("Watch", runsheet.cares(sheet)),
            *_remarks("Why not the group’s way", runsheet.reasons(sheet)),
            "</body></html>\n",
        ]
    )


def _people(sheet: RunSheet) -> Iterator[str]:
    if sheet.expected:
        names = escape(", ".join(sheet.expected))
        yield f"<p><strong>Expected ({len(sheet.expected)}):</strong> {names}</p>"
    for notice in sheet.notices:
        who = f"<strong>{escape(notice.who)}:</strong> " if notice.who else ""
        yield f"<p class='notice'>{who}{escape(notice.words)}</p>"


def _remarks(title: str, remarks: tuple[Remark, ...]) -> Iterator[str]:
    if remarks:
        yield f"<h2>{title}</h2><ul>"
        yield from (f"<li>{escape(sheet_text.told(remark))}</li>" for remark in remarks)
        yield "</ul>"


def _section(section: Section) -> Iterator[str]:
    span = f"{sheet_text.clock(section.start_ms)}–{sheet_text.clock(section.end_ms)}"
    yield f"<h2>{escape(section.title)} <span>{span}</span></h2>"
    if section.words:
        yield f"<p>{escape(section.words)}</p>"
    if section.items and section.items[0].number is None:
        yield "<ul>"
        yield from (f"<li>{_titled(item)}</li>" for item in section.items)
        yield "</ul>"
        return
    for item in section.items:
        yield from _item(item)


def _titled(item: Item) -> str:
    sides = f", {item.sides}" if item.sides else ""
    return f"{escape(item.title)} ({sheet_text.SET_UPS[item.set_up]}{sides})"


def _item(item: Item) -> Iterator[str]:
    yield f"<article><h3>{item.number}. {_titled(item)}</h3>"
    if item.set_up_how:
        yield f"<p>Band: {escape(item.set_up_how)}</p>"
    yield "<ul>"
    yield from (f"<li>{_way(way)}</li>" for way in item.ways)
    yield "</ul>"
    yield f"<p class='safety'>{escape(item.safety)}</p></article>"


def _way(way: Way) -> str:
    who = f" <strong>{escape(', '.join(way.who))}</strong>:" if way.who else ":"
    what = f"{way.movement}, {way.option.lower()}" if way.movement else way.option
    return f"{escape(what)}{who} {escape(way.how)}"
