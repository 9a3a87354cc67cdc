"""`group.toml`: a group's name, venue, calendar, wishes and local rules."""

import tomllib
import zoneinfo
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

import tomli_w

from halewright.core.catalogue.words import Goal
from halewright.core.errors import Problem
from halewright.core.people.group import Group, LocalRule, Meeting, Schedule, Venue
from halewright.core.people.person import Weekday
from halewright.files import choices, quantities, toml_parts

SCHEMA = "halewright.group"
VERSION = 1
FILE = "group.toml"

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
    top = toml_parts.Part(values=values, path="", file=FILE, text=text)
    if values.get("schema") != SCHEMA or values.get("version") != VERSION:
        top.note(
            "schema",
            read=f"{values.get('schema')} version {values.get('version')}",
            mend=f'Write schema = "{SCHEMA}" and version = {VERSION}.',
        )
    top.refuse_others(_TOP)
    head = Head(
        name=top.need(
            "name", toml_parts.words, blank="", mend='Write the name, as name = "Hall group".'
        ),
        venue=_venue(top),
        schedule=_schedule(top),
        goals=top.get("goals", _goals, blank=()),
        local_rules=tuple(_rule(part) for part in top.listed("local_rules")),
        seated_only=top.get("seated_only", toml_parts.switch, blank=False),
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
            "rounds": toml_parts.CHOOSE if schedule.rounds is None else schedule.rounds,
            "work_s": toml_parts.CHOOSE if schedule.work_s is None else schedule.work_s,
            "keep_weeks": schedule.keep_weeks,
            "meetings": [
                {"day": item.day.value, "starts_at": item.starts_at} for item in schedule.meetings
            ],
        },
        "local_rules": [_rule_values(rule) for rule in group.local_rules],
    }
    return tomli_w.dumps(values, multiline_strings=False)


def _venue(top: toml_parts.Part) -> Venue:
    if "venue" not in top.values:
        top.note("venue", read="", mend="Add a table [venue] with the venue's name.")
        return Venue(name="")
    part = top.inner("venue")
    part.refuse_others(_VENUE)
    return Venue(
        name=part.need("name", toml_parts.words, blank="", mend="Write the venue's name."),
        address=part.get("address", toml_parts.words, blank=""),
        entrance=part.get("entrance", toml_parts.words, blank=""),
        defibrillator=part.get("defibrillator", toml_parts.words, blank=""),
        phone_signal=part.get("phone_signal", toml_parts.words, blank=""),
        chairs_with_arms=part.get("chairs_with_arms", toml_parts.switch, blank=None),
    )


def _schedule(top: toml_parts.Part) -> Schedule:
    if "schedule" not in top.values:
        top.note("schedule", read="", mend="Add a table [schedule] with days, dates and weeks.")
        return _NO_SCHEDULE
    part = top.inner("schedule")
    part.refuse_others(_SCHEDULE)
    weeks = part.need(
        "weeks", toml_parts.whole(1, 52), blank=0, mend="Write how many weeks the block has."
    )
    no_weeks: tuple[int, ...] = ()
    test_weeks = part.get("test_weeks", toml_parts.wholes, blank=no_weeks)
    if weeks and any(not 1 <= week <= weeks for week in test_weeks):
        part.note("test_weeks", read=list(test_weeks), mend=f"Weeks count from 1 to {weeks}.")
    return Schedule(
        starts_on=part.need(
            "starts_on",
            toml_parts.day,
            blank=date.min,
            mend="Write the first day, as starts_on = 2027-01-12.",
        ),
        weeks=weeks,
        meetings=_meetings(part),
        time_zone=part.need(
            "time_zone", _zone, blank="", mend='Write time_zone = "Europe/London", or your own.'
        ),
        slot_minutes=part.need(
            "slot_minutes",
            toml_parts.whole(15, 180),
            blank=0,
            mend="Write how long a session lasts.",
        ),
        dates_off=part.get("dates_off", toml_parts.days, blank=()),
        test_weeks=test_weeks,
        rounds=part.get("rounds", toml_parts.chosen(toml_parts.whole(1, 6)), blank=None),
        work_s=part.get("work_s", toml_parts.chosen(_seconds), blank=None),
        keep_weeks=part.get("keep_weeks", toml_parts.whole(2, 4), blank=4),
    )


_NO_SCHEDULE = Schedule(starts_on=date.min, weeks=0, meetings=(), time_zone="", slot_minutes=0)


def _meetings(part: toml_parts.Part) -> tuple[Meeting, ...]:
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


def _rule(part: toml_parts.Part) -> LocalRule:
    part.refuse_others(_RULE)
    needed = {
        key: part.need(key, toml_parts.words, blank="", mend=mend)
        for key, mend in (
            ("rule", "Name the rule or setting that this replaces."),
            ("who", "Write who set this rule: one without a name is refused."),
            ("why", "Write why."),
            ("source", "Write where the rule comes from."),
        )
    }
    return LocalRule(
        **needed,
        on=part.get("on", toml_parts.day, blank=None),
        at_most=part.get("at_most", toml_parts.number, blank=None),
        off=part.get("off", toml_parts.switch, blank=False),
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


def _seconds(value: Any) -> float | quantities.Unread:
    read_s = toml_parts.number(value)
    if isinstance(read_s, float) and 10 <= read_s <= 180:
        return read_s
    return quantities.Unread("Write seconds from 10 to 180.")


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
