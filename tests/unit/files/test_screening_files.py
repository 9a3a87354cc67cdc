"""Rules files are read strictly, and answers are checked as they come in."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from halewright.core.errors import BadInput
from halewright.core.people.group import LocalRule
from halewright.core.people.limits import Measure
from halewright.core.screening import rules as values
from halewright.files import screening

HEAD = 'schema = "halewright.screening_rules"\nversion = 1\n'
POLICIES = 'schema = "halewright.screening_policies"\nversion = 1\npolicies = []\n'
RULE = """
[[rules]]
id = "one"
questions = ["hip_replacement"]
at = "yes"
reason = "Because."
source = "common practice"
status = "common practice"
reviewed = "2026-11"

[rules.limit]
measure = "hip_flexion"
at_most_deg = 90
strength = "avoid"
side = "as_answered"
"""


def read(folder: Path, text: str) -> screening.Rulebook:
    (folder / screening.RULES_FILE).write_text(HEAD + text, "utf-8")
    (folder / screening.POLICIES_FILE).write_text(POLICIES, "utf-8")
    return screening.read(folder)


def test_degrees_become_radians(tmp_path: Path) -> None:
    """90 degrees in a file are a quarter turn in the value."""
    gives = read(tmp_path, RULE).rules[0].gives

    assert isinstance(gives, values.GivesLimit)
    assert gives.measure is Measure.HIP_FLEXION
    assert gives.at_most == pytest.approx(1.5707963)


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('"hip_flexion"', '"hip_flection"', "Did you mean hip_flexion?"),
        ("at_most_deg", "at_most_n", "Write at_most_deg for this measure"),
        ("at_most_deg = 90", "at_most_deg = -1", "Write an amount of 0 or more."),
        ("at_most_deg = 90", "at_most_deg = nan", "Write an amount of 0 or more."),
        ('"hip_replacement"', '"hip_replacment"', "Did you mean hip_replacement?"),
        ('["hip_replacement"]', "[]", "Name at least one question"),
        ('at = "yes"', 'at = "unanswered"', "Let it apply at yes"),
        ('"hip_replacement"', '"falls"', "Let it apply at yes"),
        ('"hip_replacement"', '"thin_skin"', "questions that ask a side"),
        ('source = "common practice"', 'source = " "', "a reason and a source"),
        ('"2026-11"', '"November"', "as 2026-11"),
        ('at = "yes"', 'at = "yes"\nask_first = "Ask."', "Write two rules"),
        ('at = "yes"', 'at = "perhaps"', "Mend this"),
        ('at = "yes"', 'at = "yes"\ncolour = "red"', "Mend this"),
    ],
)
def test_each_slip_is_named_with_its_mend(tmp_path: Path, old: str, new: str, says: str) -> None:
    """A slip in a rule is refused with what was read and how to mend it."""
    with pytest.raises(BadInput) as told:
        read(tmp_path, RULE.replace(old, new, 1))

    assert says in str(told.value)


def test_all_slips_are_told_at_once(tmp_path: Path) -> None:
    """Two rules with a slip each, one id twice and a missing file make four problems."""
    slips = RULE.replace("hip_flexion", "hip"), RULE.replace("90", "-9"), RULE, RULE
    (tmp_path / screening.RULES_FILE).write_text(HEAD + "".join(slips), "utf-8")

    with pytest.raises(BadInput) as told:
        screening.read(tmp_path)

    assert len(told.value.problems) == 4


def test_other_version_is_refused(tmp_path: Path) -> None:
    """A file of another version is not half read."""
    (tmp_path / screening.RULES_FILE).write_text(
        HEAD.replace("version = 1", "version = 2") + RULE, "utf-8"
    )
    (tmp_path / screening.POLICIES_FILE).write_text(POLICIES, "utf-8")

    with pytest.raises(BadInput, match="This programme reads"):
        screening.read(tmp_path)


def test_answers_are_checked_with_their_place() -> None:
    """An unclear answer and an unknown question each become a problem in their own column."""
    problems = screening.answer_problems(
        answers={"falls": "no, but once", "thin_skinn": "yes", "stroke": "yes, left"},
        file="people.xlsx",
        sheet="Screens",
        row=4,
    )

    assert [problem.column for problem in problems] == ["falls", "thin_skinn"]
    assert "Write yes, no, or leave it blank" in problems[0].sentence()
    assert "Did you mean thin_skin?" in problems[1].sentence()
    assert problems[0].sentence().startswith("people.xlsx, sheet Screens, row 4, column falls")


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({}, ""),
        ({"rule": "hip_bent"}, "Did you mean hip_bend?"),
        ({"who": " "}, "Say who set it"),
        ({"at_most": float("nan")}, "an amount that is a number"),
        ({"rule": "falls", "at_most": None, "off": True}, "A red flag cannot be switched off."),
        ({"rule": "heart_condition"}, "has no amount to set"),
        ({"rule": "resting_blood_pressure"}, ""),
        ({"rule": "band_stretch"}, ""),
    ],
)
def test_local_rule_that_would_change_nothing_is_named(changes: dict[str, Any], says: str) -> None:
    """A misspelt, unsigned or idle local rule is told; one that works is not."""
    local = LocalRule(rule="hip_bend", who="Ann", why="so", source="a leaflet", at_most=100.0)

    problems = screening.local_rule_problems(
        local_rules=(replace(local, **changes),),
        book=screening.shipped(),
        other_settings=("band_stretch",),
        file="group.toml",
    )

    assert bool(problems) is bool(says)
    assert says in "".join(problem.sentence() for problem in problems)
