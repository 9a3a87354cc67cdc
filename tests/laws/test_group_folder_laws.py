"""Laws of group folders, on groups that Hypothesis makes."""

import math
import tempfile
from datetime import date, time
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from halewright.core.catalogue.words import Goal
from halewright.core.people.group import (
    Decision,
    Group,
    LocalRule,
    Meeting,
    RawScreen,
    Schedule,
    Venue,
)
from halewright.core.people.kit import (
    Band,
    BandCheck,
    BandLabel,
    CheckResult,
    Material,
    MeasuredPoint,
    Phase,
    Shape,
)
from halewright.core.people.limits import BodySide, Limit, Measure, Strength
from halewright.core.people.person import (
    Birth,
    EmergencyContact,
    LatexReaction,
    Person,
    PersonId,
    Sex,
    Standing,
    Weekday,
)
from halewright.core.screening import questions
from halewright.files import group_folder, told_limits

pytestmark = pytest.mark.laws

DAYS = st.dates(date(2026, 1, 1), date(2028, 12, 31))
BLANKS = {"-", "–", "—", "n/a", "nil", "none", "no", "nothing", "none known", "nka", "?"}
WORDS = (
    st.text(st.characters(codec="utf-8", categories=("L", "N", "P", "S", "Zs")), max_size=20)
    .map(lambda text: " ".join(text.split()))
    .filter(lambda text: text.casefold().strip(" .") not in BLANKS and not text.startswith("#"))
)
SOME_WORDS = WORDS.filter(bool)
PLAIN = st.from_regex(r"[a-z]{2,8}( [a-z]{2,8}){0,2}", fullmatch=True).filter(
    lambda text: text not in BLANKS
)
PHONES = st.from_regex(r"(\+44 |0)7700 900[0-9]{3}", fullmatch=True)


def unique(items: st.SearchStrategy[str], *, most: int) -> st.SearchStrategy[list[str]]:
    """Lists of texts that differ by more than case."""
    return st.lists(items, max_size=most, unique_by=lambda text: text.casefold())


@st.composite
def limits(draw: st.DrawFn) -> Limit:
    """A told limit of any measure, by anybody, whole degrees where it is an angle."""
    measure = draw(st.sampled_from(Measure))
    size = draw(st.integers(0, 150))
    clinician = draw(st.sampled_from([None, "Dr Okoro", "Ms Ray", "physio Sara Lund"]))
    return told_limits.told(
        measure=measure,
        at_most=math.radians(size) if measure.value.endswith("_rad") else float(size),
        strength=draw(st.sampled_from(Strength)),
        side=draw(st.sampled_from(BodySide)),
        reason=draw(st.just("") | PLAIN),
        told_by=clinician,
        source=draw(st.just("") | PLAIN),
        reviewed_on=draw(st.none() | DAYS),
    )


@st.composite
def people(draw: st.DrawFn, *, identifier: str) -> Person:
    """A person with any of their entries filled in or not."""
    first, last = sorted(draw(st.tuples(DAYS, DAYS)))
    born = draw(st.none() | st.dates(date(1925, 1, 1), date(1980, 1, 1)))
    return Person(
        id=PersonId(identifier),
        preferred_name=draw(SOME_WORDS),
        birth=draw(st.sampled_from([None, Birth(year=1944)]))
        if born is None
        else Birth(year=born.year, on=born),
        sex=draw(st.sampled_from(Sex)),
        # Statures are kept to a hundredth of a millimetre.
        stature_m=draw(st.none() | st.floats(1.2, 2.1).map(lambda size: round(size, 5))),
        mass_kg=draw(st.none() | st.floats(30, 200)),
        latex=draw(st.sampled_from(LatexReaction)),
        food_reactions=tuple(draw(st.lists(PLAIN, max_size=3))),
        standing=draw(st.sampled_from(Standing)),
        hearing_needs=draw(WORDS),
        sight_needs=draw(WORDS),
        print_size_pt=draw(st.none() | st.floats(8, 72)),
        days=draw(st.sampled_from([(), (Weekday.TUESDAY,), (Weekday.TUESDAY, Weekday.FRIDAY)])),
        joined_on=draw(st.none() | DAYS),
        away=draw(st.sampled_from([(), ((first, last),)])),
        limits=tuple(draw(st.lists(limits(), max_size=3))),
        contacts=tuple(
            draw(
                st.lists(
                    st.builds(EmergencyContact, name=SOME_WORDS, relation=WORDS, phone=PHONES),
                    max_size=4,
                )
            )
        ),
        medicines_carried=draw(WORDS),
        notes=draw(WORDS),
    )


def _plain(words: str) -> bool:
    """Whether words have none of the signs that part checks in their cell."""
    return not set(words) & set(";:")


@st.composite
def bands(draw: st.DrawFn, *, label: str) -> Band:
    """A band with or without size, dates and readings."""
    slack_m = draw(st.floats(0.2, 3.0))
    point = st.builds(
        MeasuredPoint,
        slack_length_m=st.just(slack_m),
        stretched_length_m=st.floats(1.0, 3.0).map(lambda ratio: ratio * slack_m),
        reading_n=st.floats(0.5, 200),
        phase=st.sampled_from(Phase),
    )
    check = st.builds(
        BandCheck,
        on=DAYS,
        by=SOME_WORDS.filter(_plain),
        result=st.sampled_from(CheckResult),
        fault=WORDS.filter(_plain),
    )
    return Band(
        label=BandLabel(label),
        material=draw(st.sampled_from(Material)),
        shape=draw(st.sampled_from(Shape)),
        length_m=draw(st.none() | st.floats(0.2, 5)),
        width_m=draw(st.none() | st.floats(0.01, 0.3)),
        count=draw(st.integers(0, 40)),
        rank=draw(st.none() | st.integers(1, 9)),
        bought_on=draw(st.none() | DAYS),
        checked_on=draw(st.none() | DAYS),
        retired_on=draw(st.none() | DAYS),
        first_used_on=draw(st.none() | DAYS),
        batch=draw(WORDS),
        checks=tuple(draw(st.lists(check, max_size=2))),
        points=tuple(draw(st.lists(point, max_size=4))),
    )


@st.composite
def screens(draw: st.DrawFn, *, person: str) -> RawScreen:
    """A screen with some of the questions answered."""
    answer = st.sampled_from(["yes", "no", "yes, left, March 2026", "not sure"])
    return RawScreen(
        person=PersonId(person),
        answered_on=draw(st.none() | DAYS),
        completed_by=draw(WORDS),
        answers=tuple((name, draw(answer)) for name in questions.BY_ID if draw(st.booleans())),
    )


@st.composite
def groups(draw: st.DrawFn) -> Group:
    """A group of a few people that meets twice a week."""
    ids = draw(unique(SOME_WORDS, most=3))
    labels = draw(unique(SOME_WORDS.filter(lambda text: not text.startswith(".")), most=3))
    weeks = draw(st.integers(1, 16))
    rule = st.builds(
        LocalRule,
        rule=SOME_WORDS,
        who=SOME_WORDS,
        why=SOME_WORDS,
        source=SOME_WORDS,
        on=st.none() | DAYS,
        at_most=st.none() | st.floats(0, 500),
        off=st.booleans(),
    )
    decision = st.builds(
        Decision,
        person=st.sampled_from(ids or ["nobody"]).map(PersonId),
        flag=st.sampled_from(["chest_pain", "stroke"]),
        go_ahead=st.booleans(),
        by=SOME_WORDS,
        on=DAYS,
        note=WORDS,
    )
    return Group(
        name=draw(SOME_WORDS),
        venue=Venue(
            name=draw(SOME_WORDS),
            address=draw(WORDS),
            entrance=draw(WORDS),
            chairs_with_arms=draw(st.none() | st.booleans()),
        ),
        schedule=Schedule(
            starts_on=date(2027, 1, 12),
            weeks=weeks,
            meetings=(
                Meeting(day=Weekday.TUESDAY, starts_at=time(10, 30)),
                Meeting(day=Weekday.FRIDAY, starts_at=draw(st.times())),
            ),
            time_zone=draw(st.sampled_from(["Europe/London", "Europe/Dublin"])),
            slot_minutes=draw(st.integers(15, 180)),
            dates_off=tuple(draw(st.lists(DAYS, max_size=3))),
            test_weeks=tuple(draw(st.lists(st.integers(1, weeks), max_size=2))),
            rounds=draw(st.none() | st.integers(1, 6)),
            work_s=draw(st.none() | st.floats(10, 180)),
            keep_weeks=draw(st.integers(2, 4)),
        ),
        goals=tuple(goal.value for goal in draw(st.lists(st.sampled_from(Goal), unique=True))),
        people=tuple(draw(people(identifier=identifier)) for identifier in ids),
        screens=tuple(draw(screens(person=identifier)) for identifier in ids),
        decisions=tuple(draw(st.lists(decision, max_size=3))) if ids else (),
        bands=tuple(draw(bands(label=label)) for label in labels),
        local_rules=tuple(draw(st.lists(rule, max_size=2))),
        seated_only=draw(st.booleans()),
    )


@settings(max_examples=60, deadline=None)
@given(groups())
def test_a_group_written_is_the_group_read(group: Group) -> None:
    """Whatever a group holds, its folder reads back as the very same group."""
    with tempfile.TemporaryDirectory() as folder:
        group_folder.write(group, Path(folder) / "group")

        assert group_folder.read(Path(folder) / "group") == group
