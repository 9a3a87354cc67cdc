"""Rows of a sheet as records: each cell knows its place, so that a problem can name it."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TypeVar

from halewright.core.errors import Problem
from halewright.files import headings, quantities, tables

T = TypeVar("T")
Parser = Callable[[tables.Value, str], T | quantities.Unread]

_SEARCHED_ROWS = 20
_BLANKS = {"", "-", "–", "—", "n/a", "nil"}
_SHEET_ERRORS = ("#REF!", "#N/A", "#VALUE!", "#DIV/0!", "#NAME?", "#NUM!", "#NULL!")


@dataclass(slots=True)
class Findings:
    """What one reading has come upon so far; the only thing here that grows."""

    problems: list[Problem] = field(default_factory=list)
    ignored: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """A value that is there, the unit its heading names, and its column as a problem names it."""

    value: tables.Value
    unit: str
    column: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """One row by field; `extra` holds the cells of columns that mean no field, by heading."""

    file: str
    sheet: str | None
    row: int
    heading_row: int
    columns: Mapping[str, str]
    cells: Mapping[str, tuple[Cell, ...]]
    extra: tuple[tuple[str, Cell], ...]
    findings: Findings

    def problem(self, *, key: str, read: str, mend: str) -> None:
        """Note a problem with one field of this row."""
        self.findings.problems.append(
            Problem(
                file=self.file,
                sheet=self.sheet,
                row=self.row,
                column=self.columns.get(key),
                read=read,
                mend=mend,
            )
        )

    def take(self, key: str, parse: Parser[T], *, blank: T) -> T:
        """Return the parsed cell, or `blank` where it is empty or not understood (noted)."""
        for cell in self.cells.get(key, ()):
            value = parse(cell.value, cell.unit)
            if not isinstance(value, quantities.Unread):
                return value
            self.problem(key=key, read=quantities.text(cell.value), mend=value.mend)
        return blank

    def joined(self, key: str) -> str:
        """Return the text of every column of a field, a line each."""
        return "\n".join(quantities.text(cell.value) for cell in self.cells.get(key, ()))


def read(
    path: Path,
    *,
    file: str,
    fields: Sequence[headings.Field],
    required: Sequence[str],
    findings: Findings,
    keep_unknown: bool = False,
) -> tuple[Record, ...]:
    """Return the records of every sheet that has the headings of this kind of table.

    A heading row is the one among the first twenty with the most known headings. Columns that
    mean nothing known are listed as ignored, or kept as `extra` where `keep_unknown` says so.
    """

    def known(text: str) -> bool:
        return headings.claim(fields, heading=text, place=0) is not None

    sheets, problems = tables.read(path, file=file, known=known)
    findings.problems += problems
    tops = [_heading_row(sheet, fields=fields) for sheet in sheets]
    most = max((count for _, count in tops), default=0)
    found: list[Record] = []
    for sheet, (top, count) in zip(sheets, tops, strict=True):
        # A sheet with far fewer of the headings than the best is about something else.
        if top is None or 2 * count < most:
            if sheet.rows and sheet.name:
                findings.ignored.append(f"{file}, sheet {sheet.name}")
            continue
        found += _records(
            sheet,
            top=top,
            fields=fields,
            required=required,
            findings=findings,
            keep_unknown=keep_unknown,
        )
    if not most and not problems:
        findings.problems.append(_no_headings(file, fields=fields))
    return tuple(found)


def _no_headings(file: str, *, fields: Sequence[headings.Field]) -> Problem:
    names = ", ".join(item.names[0] for item in fields[:4])
    return Problem(
        file=file,
        read="no row of headings",
        mend=f"Give the columns headings, for example: {names}.",
    )


def _heading_row(
    sheet: tables.Sheet, *, fields: Sequence[headings.Field]
) -> tuple[tables.Row | None, int]:
    """Return the row with the most known headings and how many; one alone is chance."""
    best, most = None, 1
    for row in sheet.rows[:_SEARCHED_ROWS]:
        claims, _ = headings.claims_of(fields, row)
        distinct = len({item.field.key for item in claims})
        if distinct > most:
            best, most = row, distinct
    return best, most if best else 0


def _records(
    sheet: tables.Sheet,
    *,
    top: tables.Row,
    fields: Sequence[headings.Field],
    required: Sequence[str],
    findings: Findings,
    keep_unknown: bool,
) -> list[Record]:
    claims, unknown = headings.claims_of(fields, top)
    stand, outdone, problems = headings.settled(claims, sheet=sheet, row=top.number)
    findings.problems += problems
    below = [row for row in sheet.rows if row.number > top.number]
    if not keep_unknown:
        used = {place for row in below for place, value in enumerate(row.values) if value}
        unwanted = [*unknown, *((item.place, item.heading) for item in outdone)]
        findings.ignored += [heading for place, heading in unwanted if place in used]
    claimed = {item.field.key for item in stand}
    for item in fields:
        if item.key in required and item.key not in claimed:
            findings.problems.append(
                Problem(
                    file=sheet.file,
                    sheet=sheet.name,
                    row=top.number,
                    read=f"no column headed “{item.names[0]}”",
                    mend=f"Add a column headed “{item.names[0]}” and fill it in.",
                )
            )
    extra = unknown if keep_unknown else ()
    return [
        _record(sheet, row=row, top=top, claims=stand, extra=extra, findings=findings)
        for row in below
        if not _repeats_headings(row, fields=fields, among=len(claims))
    ]


def _repeats_headings(row: tables.Row, *, fields: Sequence[headings.Field], among: int) -> bool:
    """Whether a row only says the headings again, as printed lists do on each page."""
    again, _ = headings.claims_of(fields, row)
    return len(again) >= max(2, among - 1)


def _record(
    sheet: tables.Sheet,
    *,
    row: tables.Row,
    top: tables.Row,
    claims: Sequence[headings.Claim],
    extra: Sequence[tuple[int, str]],
    findings: Findings,
) -> Record:
    cells: dict[str, tuple[Cell, ...]] = {}
    columns: dict[str, str] = {}
    for item in claims:
        columns.setdefault(item.field.key, item.column)
        value = _value_at(row, item.place)
        if value in _SHEET_ERRORS:
            findings.problems.append(_sheet_error(sheet, row=row.number, claim=item, value=value))
        elif value is not None:
            cell = Cell(value=value, unit=item.unit, column=item.column)
            cells[item.field.key] = (*cells.get(item.field.key, ()), cell)
    return Record(
        file=sheet.file,
        sheet=sheet.name,
        row=row.number,
        heading_row=top.number,
        columns=columns,
        cells=cells,
        extra=tuple(
            (heading, Cell(value=value, unit="", column=headings.column_name(place, heading)))
            for place, heading in extra
            if (value := _value_at(row, place)) is not None
        ),
        findings=findings,
    )


def _sheet_error(
    sheet: tables.Sheet, *, row: int, claim: headings.Claim, value: tables.Value | None
) -> Problem:
    return Problem(
        file=sheet.file,
        sheet=sheet.name,
        row=row,
        column=claim.column,
        read=str(value),
        mend="The spreadsheet shows an error here. Type the value itself.",
    )


def _value_at(row: tables.Row, place: int) -> tables.Value | None:
    value = row.values[place] if place < len(row.values) else None
    return None if isinstance(value, str) and value.casefold() in _BLANKS else value
