"""`group.toml`: a group's name, venue, calendar, wishes and local rules."""

import tomllib
import zoneinfo
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any, TypeVar

import tomli_w

from halewright.core.catalogue.words import Goal
from halewright.core.errors import Problem
from halewright.core.people.group import Group, LocalRule, Meeting, Schedule, Venue
from halewright.core.people.person import Weekday
from halewright.files import choices, quantities

T = TypeVar("T")

SCHEMA = "halewright.group"
VERSION = 1
FILE = "group.toml"
CHOOSE = "choose for me"

_TOP = ("schema", "version", "name", "goals", "seated_only", "venue", "schedule", "local_rules")
_VENUE = ("name", "address", "entrance", "defibrillator", "phone_signal", "chairs_with_arms")
_SCHEDULE = (
    "time_zone", "starts_on", "meetings", "dates_off", "test_weeks", "slot_minutes", "weeks",
    "rounds", "work_s", "keep_weeks",
)  # fmt: skip
_MEETING = ("day", "starts_at")
_RULE = ("rule", "who", "why", "source", "on", "at_most", "off")


@dataclass(frozen=True, slots=True, kw_only=True)
class Head:
    """What `group.toml` holds of a group; the rest comes from the spreadsheets."""

    name: str
    venue: Venue
    schedule: Schedule
    goals: tuple[str, ...]
    local_rules: tuple[LocalRule, ...]
    seated_only: bool


@dataclass(slots=True)
class _Part:
    """One table of the file with its path; every get notes its own problem and goes on."""

    values: dict[str, Any]
    path: str
    file: str
    text: str
    problems: list[Problem] = field(default_factory=list)

    def note(self, key: str, *, read: object, mend: str) -> None:
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
        for key in self.values:
            if key not in known:
                self.note(
                    key, read=key, mend=f"Nothing has this name here; known: {', '.join(known)}."
                )

    def get(self, key: str, parse: Callable[[Any], T | quantities.Unread], *, blank: T) -> T:
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
        if key not in self.values:
            self.note(key, read="", mend=mend)
        return self.get(key, parse, blank=blank)

    def inner(self, key: str) -> "_Part":
        value = self.values.get(key, {})
        if not isinstance(value, dict):
            self.note(key, read=value, mend=f"Write a table headed [{key}].")
            value = {}
        return self._within(value, f"{self.path}{key}.")

    def listed(self, key: str) -> list["_Part"]:
        value = self.values.get(key, [])
        if not isinstance(value, list) or not all(isinstance(item, dict) for item in value):
            self.note(key, read=value, mend=f"Write each as a table headed [[{self.path}{key}]].")
            return []
        return [
            self._within(item, f"{self.path}{key}[{number}].")
            for number, item in enumerate(value, start=1)
        ]

    def _within(self, values: dict[str, Any], path: str) -> "_Part":
        return _Part(
            values=values, path=path, file=self.file, text=self.text, problems=self.problems
        )


def read(path: Path) -> tuple[Head | None, tuple[Problem, ...]]:
    """Return what the file holds and every problem in it; None when it cannot be used at all.

    With problems the head is for checking the other files against, never for use.
    """
    try:
        text = path.read_text("utf-8-sig")
        values = tomllib.loads(text)
    except FileNotFoundError:
        mend = "Add the file group.toml, or choose the folder that holds it."
        return None, (Problem(file=FILE, read="no such file", mend=mend),)
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        mend = 'Mend this line: text in "quotes", dates as 2027-01-12, lists in [square brackets].'
        return None, (Problem(file=FILE, read=str(error), mend=mend),)
    top = _Part(values=values, path="", file=FILE, text=text)
    if values.get("schema") != SCHEMA or values.get("version") != VERSION:
        top.note(
            "schema",
            read=f"{values.get('schema')} version {values.get('version')}",
            mend=f'Write schema = "{SCHEMA}" and version = {VERSION}.',
        )
    top.refuse_others(_TOP)
    head = Head(
        name=top.need("name", _words, blank="", mend='Write the name, as name = "Hall group".'),
        venue=_venue(top),
        schedule=_schedule(top),
        goals=top.get("goals", _goals, blank=()),
        local_rules=tuple(_rule(part) for part in top.listed("local_rules")),
        seated_only=top.get("seated_only", _switch, blank=False),
    )
    return head, tuple(top.problems)


def written(group: Group) -> str:
    """Return the text of the file for a group."""
    schedule = group.schedule
    values: dict[str, Any] = {
        "schema": SCHEMA,
        "version": VERSION,
        "name": group.name,
        "goals": list(group.goals),
        "seated_only": group.seated_only,
        "venue": _filled(
            {
                "name": group.venue.name,
                "address": group.venue.address,
                "entrance": group.venue.entrance,
                "defibrillator": group.venue.defibrillator,
                "phone_signal": group.venue.phone_signal,
                "chairs_with_arms": group.venue.chairs_with_arms,
            }
        ),
        "schedule": {
            "time_zone": schedule.time_zone,
            "starts_on": schedule.starts_on,
            "weeks": schedule.weeks,
            "slot_minutes": schedule.slot_minutes,
            "dates_off": list(schedule.dates_off),
            "test_weeks": list(schedule.test_weeks),
            "rounds": CHOOSE if schedule.rounds is None else schedule.rounds,
            "work_s": CHOOSE if schedule.work_s is None else schedule.work_s,
            "keep_weeks": schedule.keep_weeks,
            "meetings": [
                {"day": item.day.value, "starts_at": item.starts_at} for item in schedule.meetings
            ],
        },
        "local_rules": [_rule_values(rule) for rule in group.local_rules],
    }
    return tomli_w.dumps(values, multiline_strings=False)


def _venue(top: _Part) -> Venue:
    if "venue" not in top.values:
        top.note("venue", read="", mend="Add a table [venue] with the venue's name.")
        return Venue(name="")
    part = top.inner("venue")
    part.refuse_others(_VENUE)
    return Venue(
        name=part.need("name", _words, blank="", mend="Write the venue's name."),
        address=part.get("address", _words, blank=""),
        entrance=part.get("entrance", _words, blank=""),
        defibrillator=part.get("defibrillator", _words, blank=""),
        phone_signal=part.get("phone_signal", _words, blank=""),
        chairs_with_arms=part.get("chairs_with_arms", _switch, blank=None),
    )


def _schedule(top: _Part) -> Schedule:
    if "schedule" not in top.values:
        top.note("schedule", read="", mend="Add a table [schedule] with days, dates and weeks.")
        return _NO_SCHEDULE
    part = top.inner("schedule")
    part.refuse_others(_SCHEDULE)
    weeks = part.need("weeks", _whole(1, 52), blank=0, mend="Write how many weeks the block has.")
    no_weeks: tuple[int, ...] = ()
    test_weeks = part.get("test_weeks", _wholes, blank=no_weeks)
    if weeks and any(not 1 <= week <= weeks for week in test_weeks):
        part.note("test_weeks", read=list(test_weeks), mend=f"Weeks count from 1 to {weeks}.")
    return Schedule(
        starts_on=part.need(
            "starts_on",
            _day,
            blank=date.min,
            mend="Write the first day, as starts_on = 2027-01-12.",
        ),
        weeks=weeks,
        meetings=_meetings(part),
        time_zone=part.need(
            "time_zone", _zone, blank="", mend='Write time_zone = "Europe/London", or your own.'
        ),
        slot_minutes=part.need(
            "slot_minutes", _whole(15, 180), blank=0, mend="Write how long a session lasts."
        ),
        dates_off=part.get("dates_off", _days, blank=()),
        test_weeks=test_weeks,
        rounds=part.get("rounds", _chosen(_whole(1, 6)), blank=None),
        work_s=part.get("work_s", _chosen(_seconds), blank=None),
        keep_weeks=part.get("keep_weeks", _whole(2, 4), blank=4),
    )


_NO_SCHEDULE = Schedule(starts_on=date.min, weeks=0, meetings=(), time_zone="", slot_minutes=0)


def _meetings(part: _Part) -> tuple[Meeting, ...]:
    found = []
    for item in part.listed("meetings"):
        item.refuse_others(_MEETING)
        day = item.need("day", _weekday, blank=None, mend='Write the day, as day = "tuesday".')
        starts_at = item.need(
            "starts_at", quantities.clock, blank=None, mend="Write the time, as 10:30:00."
        )
        if day is not None and starts_at is not None:
            found.append(Meeting(day=day, starts_at=starts_at))
    if not part.values.get("meetings"):
        part.note(
            "meetings", read="", mend="Add a [[schedule.meetings]] with day and starts_at for each."
        )
    return tuple(found)


def _rule(part: _Part) -> LocalRule:
    part.refuse_others(_RULE)
    needed = {
        key: part.need(key, _words, blank="", mend=mend)
        for key, mend in (
            ("rule", "Name the rule or setting that this replaces."),
            ("who", "Write who set this rule: one without a name is refused."),
            ("why", "Write why."),
            ("source", "Write where the rule comes from."),
        )
    }
    return LocalRule(
        **needed,
        on=part.get("on", _day, blank=None),
        at_most=part.get("at_most", _number, blank=None),
        off=part.get("off", _switch, blank=False),
    )


def _rule_values(rule: LocalRule) -> dict[str, Any]:
    return _filled(
        {
            "rule": rule.rule,
            "who": rule.who,
            "why": rule.why,
            "source": rule.source,
            "on": rule.on,
            "at_most": rule.at_most,
            "off": rule.off or None,
        }
    )


def _filled(values: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in values.items() if value is not None and value != ""}


def _words(value: Any) -> str | quantities.Unread:
    if isinstance(value, str) and value.strip():
        return value.strip()
    return quantities.Unread('Write some words in "quotes".')


def _switch(value: Any) -> bool | quantities.Unread:
    return value if isinstance(value, bool) else quantities.Unread("Write true or false.")


def _number(value: Any) -> float | quantities.Unread:
    if isinstance(value, int | float) and not isinstance(value, bool):
        return float(value)
    return quantities.Unread("Write a number.")


def _whole(low: int, high: int) -> Callable[[Any], int | quantities.Unread]:
    def parse(value: Any) -> int | quantities.Unread:
        if isinstance(value, int) and not isinstance(value, bool) and low <= value <= high:
            return value
        return quantities.Unread(f"Write a whole number from {low} to {high}.")

    return parse


def _seconds(value: Any) -> float | quantities.Unread:
    read_s = _number(value)
    if isinstance(read_s, float) and 10 <= read_s <= 180:
        return read_s
    return quantities.Unread("Write seconds from 10 to 180.")


def _chosen(
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


def _wholes(value: Any) -> tuple[int, ...] | quantities.Unread:
    if isinstance(value, list) and all(type(item) is int for item in value):
        return tuple(value)
    return quantities.Unread("Write whole numbers in brackets, as [1, 12].")


def _day(value: Any) -> date | quantities.Unread:
    if isinstance(value, str | date):
        return quantities.day(value)
    return quantities.Unread("Write the date as 2027-01-12.")


def _days(value: Any) -> tuple[date, ...] | quantities.Unread:
    mend = quantities.Unread("Write dates in brackets, as [2027-02-16, 2027-04-02].")
    if not isinstance(value, list):
        return mend
    days = [read for item in value if isinstance(read := _day(item), date)]
    return tuple(days) if len(days) == len(value) else mend


def _zone(value: Any) -> str | quantities.Unread:
    try:
        return zoneinfo.ZoneInfo(value).key
    except (zoneinfo.ZoneInfoNotFoundError, TypeError, ValueError, OSError):
        return quantities.Unread('Write the time zone as "Europe/London" or "Europe/Dublin".')


def _weekday(value: Any) -> Weekday | quantities.Unread:
    days = choices.weekdays(value) if isinstance(value, str) else ()
    if isinstance(days, tuple) and len(days) == 1:
        return days[0]
    return quantities.Unread('Write one day by name, as "tuesday".')


def _goals(value: Any) -> tuple[str, ...] | quantities.Unread:
    known = [goal.value for goal in Goal]
    if isinstance(value, list) and all(item in known for item in value):
        return tuple(value)
    return quantities.Unread(f"Write goals in brackets, from: {', '.join(known)}.")


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
