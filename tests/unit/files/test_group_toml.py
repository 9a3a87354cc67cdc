from datetime import date, time
from pathlib import Path

import pytest

from halewright.core.people.group import LocalRule, Meeting
from halewright.core.people.person import Weekday
from halewright.files import group_toml

GOOD = """\
schema = "halewright.group"
version = 1
name = "Hall group"
goals = ["rising", "posture"]

[venue]
name = "The hall"
chairs_with_arms = true

[schedule]
time_zone = "Europe/London"
starts_on = 2027-01-12
weeks = 12
slot_minutes = 45
dates_off = [2027-02-16, "26 March 2027"]
test_weeks = [1, 12]
rounds = 2
work_s = "choose for me"

[[schedule.meetings]]
day = "Tuesday"
starts_at = 10:30:00

[[schedule.meetings]]
day = "fri"
starts_at = "2 pm"

[[local_rules]]
rule = "shoulder_raise"
who = "Priya Nair"
why = "Agreed with the physiotherapist."
source = "Letter of 3 May"
on = 2026-05-03
at_most = 80
"""


def read(
    tmp_path: Path, text: str
) -> tuple[group_toml.Head | None, list[tuple[int | None, str | None]]]:
    """Read a text as group.toml; problems as line and name."""
    path = tmp_path / "group.toml"
    path.write_text(text, "utf-8")
    head, problems = group_toml.read(path)
    return head, [(item.row, item.column) for item in problems]


def test_a_good_file_gives_every_value(tmp_path: Path) -> None:
    """Dates and times may be TOML's own or in quotes, as people write them."""
    head, problems = read(tmp_path, GOOD)

    assert problems == []
    assert head is not None
    assert head.schedule.meetings == (
        Meeting(day=Weekday.TUESDAY, starts_at=time(10, 30)),
        Meeting(day=Weekday.FRIDAY, starts_at=time(14, 0)),
    )
    assert head.schedule.dates_off == (date(2027, 2, 16), date(2027, 3, 26))
    assert (head.schedule.rounds, head.schedule.work_s) == (2, None)
    assert head.goals == ("rising", "posture")
    assert head.local_rules == (
        LocalRule(
            rule="shoulder_raise",
            who="Priya Nair",
            why="Agreed with the physiotherapist.",
            source="Letter of 3 May",
            on=date(2026, 5, 3),
            at_most=80.0,
        ),
    )


def test_every_fault_is_told_with_its_line(tmp_path: Path) -> None:
    """Nine faults in one file are nine problems, in nine places."""
    faulty = (
        GOOD.replace('name = "Hall group"', "name = 7")
        .replace('"rising", "posture"', '"flying"')
        .replace("chairs_with_arms = true", 'chairs_with_arms = "some"')
        .replace("Europe/London", "Europe/Haverley")
        .replace("weeks = 12\n", "weeks = 0\n", 1)
        .replace("slot_minutes = 45", "slot_minutes = 4.5")
        .replace('"fri"', '"someday"')
        .replace('who = "Priya Nair"', 'whom = "Priya Nair"')
    )

    _, problems = read(tmp_path, faulty)

    assert sorted(problems, key=str) == sorted(
        [
            (3, "name"),
            (4, "goals"),
            (8, "venue.chairs_with_arms"),
            (11, "schedule.time_zone"),
            (13, "schedule.weeks"),
            (14, "schedule.slot_minutes"),
            (25, "schedule.meetings[2].day"),
            (30, "local_rules[1].whom"),
            (None, "local_rules[1].who"),
        ],
        key=str,
    )


@pytest.mark.parametrize(
    ("old", "new", "column"),
    [
        ("version = 1", "version = 2", "schema"),
        ("test_weeks = [1, 12]", "test_weeks = [13]", "schedule.test_weeks"),
        ("rounds = 2", 'rounds = "many"', "schedule.rounds"),
        ("at_most = 80", "at_most = inf", "local_rules[1].at_most"),
        ("starts_on = 2027-01-12\n", "", "schedule.starts_on"),
        ("[venue]", "[vanue]", "venue"),
    ],
)
def test_one_fault_is_named(tmp_path: Path, old: str, new: str, column: str) -> None:
    """Each kind of fault names the entry that is wrong or missing."""
    _, problems = read(tmp_path, GOOD.replace(old, new))

    assert column in [name for _, name in problems]


def test_a_file_that_is_no_toml_is_one_problem(tmp_path: Path) -> None:
    """A slip that stops the reading is told with the place that the reader gives."""
    head, problems = read(tmp_path, GOOD.replace('"Hall group"', "Hall group"))

    assert head is None
    assert len(problems) == 1
