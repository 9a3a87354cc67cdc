import math
from datetime import date

import pytest

from halewright.core.people.limits import BodySide, Limit, Measure, Strength
from halewright.files import told_limits
from halewright.files.quantities import Unread

EXAMPLE = (
    "left shoulder not above 90; hip flexion at most 90 right (Dr Okoro 2026-05-02); no standing; "
    "band at most 30 N; no overhead"
)


def one(written: str) -> Limit:
    """Return the only limit of a cell."""
    read = told_limits.read(written)
    assert isinstance(read, tuple)
    assert len(read) == 1
    return read[0]


def test_the_example_in_the_guide_is_read() -> None:
    """The five limits that the guide shows come out as measures with sides and amounts."""
    read = told_limits.read(EXAMPLE)

    assert isinstance(read, tuple)
    assert [(item.measure, item.at_most, item.side) for item in read] == [
        (Measure.SHOULDER_ELEVATION, math.radians(90), BodySide.LEFT),
        (Measure.HIP_FLEXION, math.radians(90), BodySide.RIGHT),
        (Measure.STANDING, 0.0, BodySide.BOTH),
        (Measure.TENSION, 30.0, BodySide.BOTH),
        (Measure.ARMS_OVERHEAD, 0.0, BodySide.BOTH),
    ]


def test_a_clinician_in_brackets_makes_the_limit_theirs() -> None:
    """A name with Dr, and its date, go into `told_by` and `reviewed_on`."""
    limit = one("hip flexion at most 90 right (Dr Okoro 2026-05-02)")

    assert limit.told_by == "Dr Okoro"
    assert limit.reviewed_on == date(2026, 5, 2)
    assert limit.rule == "told"


def test_a_relative_in_brackets_is_a_source_and_no_clinician() -> None:
    """Only a clinician's limit is incurable, so a daughter's is not taken for one."""
    limit = one("no overhead (Ann, daughter)")

    assert limit.told_by is None
    assert limit.source == "Ann, daughter"


def test_told_by_makes_any_name_a_clinician() -> None:
    """“Told by” is the leader's own word that this counts as clinical advice."""
    assert one("no overhead (told by Ms Ray, 5 May 2026)").told_by == "Ms Ray"


def test_care_and_a_reason_can_be_said() -> None:
    """“Care:” makes the limit one to approach with care; “because” gives the reason."""
    limit = one("care: knee bend at most 100 left because the knee swells")

    assert limit.strength is Strength.CARE
    assert limit.reason == "the knee swells"


@pytest.mark.parametrize(
    ("written", "at_most"),
    [
        ("standing with two hands", 1.0),
        ("stand only with fingertips", 3.0),
        ("standing only with one hand held", 2.0),
        ("seated only", 0.0),
    ],
)
def test_support_when_standing_can_be_a_limit(written: str, at_most: float) -> None:
    """A limit on standing may name the support it needs."""
    limit = one(written)

    assert (limit.measure, limit.at_most) == (Measure.STANDING, at_most)


@pytest.mark.parametrize(
    "written", ["be careful", "shoulder above 90", "band at most 30 degrees", "knee at most 90 N"]
)
def test_what_is_no_limit_is_shown_with_an_example(written: str) -> None:
    """Words that give no bound, or the wrong unit, are refused with examples that work."""
    read = told_limits.read(f"no standing; {written}")

    assert isinstance(read, Unread)
    assert written in read.mend
    assert "left shoulder not above 90" in read.mend


def test_a_full_stop_or_capital_changes_nothing() -> None:
    """Limits typed as sentences are read."""
    assert one("No standing.").measure is Measure.STANDING
    assert one("No overhead (Dr Okoro).").told_by == "Dr Okoro"
    assert one("No overhead Because it hurts.").reason == "it hurts."


def test_a_reason_with_semicolons_and_brackets_loses_no_limit() -> None:
    """Signs that stand between limits are softened on writing, so that none is torn apart."""
    limit = told_limits.told(
        measure=Measure.STANDING, at_most=0.0, reason="faints; often (daily)", told_by="Dr O (GP)"
    )

    again = one(told_limits.written((limit,)))

    assert (again.measure, again.reason) == (Measure.STANDING, "faints, often [daily]")
    assert again.told_by == "Dr O [GP]"


@pytest.mark.parametrize("measure", list(Measure))
@pytest.mark.parametrize("at_most", [0.0, 1.0])
def test_every_measure_can_be_written_and_read(measure: Measure, at_most: float) -> None:
    """Whatever the measure, the words that are written read back as the same limit."""
    limit = told_limits.told(measure=measure, at_most=at_most, side=BodySide.LEFT)

    assert told_limits.read(told_limits.written((limit,))) == (limit,)
