"""Tables of a TOML file, read piece by piece so that every problem is found at once."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any, TypeVar

from halewright.core.errors import Problem
from halewright.files import quantities

T = TypeVar("T")

CHOOSE = "choose for me"


@dataclass(slots=True)
class Part:
    """One table of the file with its path; every get notes its own problem and goes on."""

    values: dict[str, Any]
    path: str
    file: str
    text: str
    problems: list[Problem] = field(default_factory=list)

    def note(self, key: str, *, read: object, mend: str) -> None:
        """Note a problem with one entry of this table."""
        self.problems.append(
            Problem(
                file=self.file,
                row=_line(self.text, path=self.path, key=key),
                column=f"{self.path}{key}",
                read=_shown(read),
                mend=mend,
            )
        )

    def refuse_others(self, known: Sequence[str]) -> None:
        """Note every entry whose name is not known here."""
        for key in self.values:
            if key not in known:
                self.note(
                    key, read=key, mend=f"Nothing has this name here; known: {', '.join(known)}."
                )

    def get(self, key: str, parse: Callable[[Any], T | quantities.Unread], *, blank: T) -> T:
        """Return the parsed entry, or `blank` where it is absent or not understood (noted)."""
        if key not in self.values:
            return blank
        value = parse(self.values[key])
        if isinstance(value, quantities.Unread):
            self.note(key, read=self.values[key], mend=value.mend)
            return blank
        return value

    def need(
        self, key: str, parse: Callable[[Any], T | quantities.Unread], *, blank: T, mend: str
    ) -> T:
        """Return the parsed entry; an absent one is noted with `mend`."""
        if key not in self.values:
            self.note(key, read="", mend=mend)
        return self.get(key, parse, blank=blank)

    def inner(self, key: str) -> "Part":
        """Return the table of a name, empty where something else stands there (noted)."""
        value = self.values.get(key, {})
        if not isinstance(value, dict):
            self.note(key, read=value, mend=f"Write a table headed [{key}].")
            value = {}
        return self._within(value, f"{self.path}{key}.")

    def listed(self, key: str) -> list["Part"]:
        """Return the tables of a name, none where something else stands there (noted)."""
        value = self.values.get(key, [])
        if not isinstance(value, list) or not all(isinstance(item, dict) for item in value):
            self.note(key, read=value, mend=f"Write each as a table headed [[{self.path}{key}]].")
            return []
        return [
            self._within(item, f"{self.path}{key}[{number}].")
            for number, item in enumerate(value, start=1)
        ]

    def _within(self, values: dict[str, Any], path: str) -> "Part":
        return Part(
            values=values, path=path, file=self.file, text=self.text, problems=self.problems
        )


def words(value: Any) -> str | quantities.Unread:
    """Read some words."""
    if isinstance(value, str) and value.strip():
        return value.strip()
    return quantities.Unread('Write some words in "quotes".')


def switch(value: Any) -> bool | quantities.Unread:
    """Read true or false."""
    return value if isinstance(value, bool) else quantities.Unread("Write true or false.")


def number(value: Any) -> float | quantities.Unread:
    """Read a finite number."""
    if isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value):
        return float(value)
    return quantities.Unread("Write a number.")


def whole(low: int, high: int) -> Callable[[Any], int | quantities.Unread]:
    """Return a parser of whole numbers between two bounds, both within."""

    def parse(value: Any) -> int | quantities.Unread:
        if isinstance(value, int) and not isinstance(value, bool) and low <= value <= high:
            return value
        return quantities.Unread(f"Write a whole number from {low} to {high}.")

    return parse


def chosen(
    parse: Callable[[Any], T | quantities.Unread],
) -> Callable[[Any], T | quantities.Unread | None]:
    """Return a parser that also takes “choose for me”, as None."""

    def parse_chosen(value: Any) -> T | quantities.Unread | None:
        if isinstance(value, str) and value.strip().casefold() == CHOOSE:
            return None
        read = parse(value)
        if isinstance(read, quantities.Unread):
            return quantities.Unread(f'{read.mend} Or write "{CHOOSE}".')
        return read

    return parse_chosen


def wholes(value: Any) -> tuple[int, ...] | quantities.Unread:
    """Read a list of whole numbers."""
    if isinstance(value, list) and all(type(item) is int for item in value):
        return tuple(value)
    return quantities.Unread("Write whole numbers in brackets, as [1, 12].")


def day(value: Any) -> date | quantities.Unread:
    """Read a date, as TOML writes it or in quotes as people do."""
    if isinstance(value, str | date):
        return quantities.day(value)
    return quantities.Unread("Write the date as 2027-01-12.")


def days(value: Any) -> tuple[date, ...] | quantities.Unread:
    """Read a list of dates."""
    mend = quantities.Unread("Write dates in brackets, as [2027-02-16, 2027-04-02].")
    if not isinstance(value, list):
        return mend
    days = [read for item in value if isinstance(read := day(item), date)]
    return tuple(days) if len(days) == len(value) else mend


def _shown(value: object) -> str:
    if isinstance(value, list):
        return ", ".join(_shown(item) for item in value)
    return value if isinstance(value, str) else str(value)


def _line(text: str, *, path: str, key: str) -> int | None:
    """Return the line on which a key stands, counted from 1; None where it is not to be found."""
    table, _, rest = path.rstrip(".").partition("[")
    wanted = int(rest.split("]")[0]) if rest else 1
    current, seen = "", 0
    for number, line in enumerate(text.splitlines(), start=1):
        plain = line.strip()
        if plain.startswith("["):
            current = plain.strip("[] ")
            seen += current == table
            if current == f"{path}{key}":
                return number
        elif (
            current == table
            and (seen == wanted or not table)
            and plain.partition("=")[0].strip() == key
        ):
            return number
    return None
