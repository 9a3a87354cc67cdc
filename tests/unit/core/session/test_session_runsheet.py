"""The run sheet: who does what which way, and a wall copy that tells of nobody."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from tests.fakes.outlines import outline

from halewright.core.catalogue.movement import MovementId
from halewright.core.catalogue.words import OptionKind
from halewright.core.people.limits import Limit, Measure, Strength
from halewright.core.people.person import (
    Birth,
    EmergencyContact,
    LatexReaction,
    Person,
    PersonId,
)
from halewright.core.session import build, runsheet
from halewright.core.session.durations import Durations
from halewright.core.session.outline import Notice, SessionOutline, Station, Use
from halewright.core.session.runsheet import Item, RunSheet
from halewright.files import movements
from halewright.media import sheet_html, sheet_text

ADA, BEN, CON, DOT = (PersonId(key) for key in ("ada", "ben", "con", "dot"))
PEOPLE = tuple(Person(id=key, preferred_name=key.capitalize()) for key in (ADA, BEN, CON, DOT))
ROW, KNEES, LIFT = (MovementId(key) for key in ("seated-row", "knee-straighten", "knee-lift"))
GOLDEN = Path(__file__).parents[3] / "golden" / "small-session.txt"


def use(
    person: PersonId,
    kind: OptionKind | None,
    *,
    movement: MovementId = ROW,
    why: str = "",
    with_care: tuple[str, ...] = (),
) -> Use:
    return Use(person=person, movement=movement, option=kind, why=why, with_care=with_care)


def rows() -> Station:
    """Return a station with every kind of use: as shown, gentler, another movement, sitting out."""
    return Station(
        movement=ROW,
        uses=(
            use(ADA, OptionKind.STANDARD),
            use(BEN, OptionKind.GENTLER, why="Sore wrist.", with_care=("Watch the wrist.",)),
            use(CON, OptionKind.STANDARD, movement=KNEES, why="No pulling."),
            use(DOT, None, why="Nothing suits."),
        ),
    )


def session() -> SessionOutline:
    return outline(
        stations=(rows(),),
        expected=(ADA, BEN, CON, DOT),
        notices=(Notice(words="Comes back after a cold.", person=BEN), Notice(words="Hot day.")),
    )


def sheet_of(session: SessionOutline, people: tuple[Person, ...] = PEOPLE) -> RunSheet:
    catalogue = movements.shipped()
    return runsheet.run_sheet(
        outline=session,
        timeline=build.timeline(outline=session, catalogue=catalogue, durations=Durations()),
        catalogue=catalogue,
        people=people,
    )


def station(sheet: RunSheet, number: int) -> Item:
    (item,) = (
        item for section in sheet.sections for item in section.items if item.number == number
    )
    return item


def test_a_station_says_who_does_what_which_way() -> None:
    """The group's way first with everyone else, then each other way by name, sitting out last."""
    ways = station(sheet_of(session()), 1).ways

    assert [(way.option, way.movement, way.who) for way in ways] == [
        ("Standard", "", ("Everyone else",)),
        ("Gentler", "", ("Ben",)),
        ("Sits this one out", "", ("Dot",)),
        ("Standard", "Knee straightening", ("Con",)),
    ]


def test_everyone_is_said_where_nobody_differs() -> None:
    """A station that all do as shown names everyone once."""
    same = Station(
        movement=KNEES,
        uses=tuple(use(person, OptionKind.STANDARD, movement=KNEES) for person in (ADA, BEN)),
    )

    (way,) = station(sheet_of(outline(stations=(same,))), 1).ways

    assert way.who == ("Everyone",)


def test_a_reason_is_said_once_with_its_stations() -> None:
    """The same reason at two stations is one line with both numbers."""
    twice = outline(stations=(rows(), rows()))

    told = {(each.who, each.words): each.stations for each in runsheet.reasons(sheet_of(twice))}

    assert told["Ben", "Sore wrist."] == (1, 2)


def test_what_to_watch_names_the_person() -> None:
    """What needs care is told with the name and the station."""
    (care,) = runsheet.cares(sheet_of(session()))

    assert (care.who, care.words, care.stations) == ("Ben", "Watch the wrist.", (1,))


def test_somebody_no_longer_in_the_group_is_shown_by_identifier() -> None:
    """A person whom the group no longer has stays on the sheet by identifier."""
    sheet = sheet_of(session(), people=PEOPLE[1:])

    assert sheet.expected == ("ada", "Ben", "Con", "Dot")


def test_sections_follow_the_clock() -> None:
    """Sections are in order of time and begin at 0."""
    sections = sheet_of(session()).sections
    starts = [section.start_ms for section in sections]

    assert starts == sorted(starts)
    assert starts[0] == 0
    assert [section.title for section in sections] == [
        "Welcome and stop signs",
        "Warm-up",
        "Bands out and checked",
        "Main part",
        "Bands down, water",
        "Cool-down",
        "Rise check",
        "Close",
    ]


MARK = "zq"
"""Letters that no word of the catalogue has together."""


def marked(number: int) -> Person:
    """Return a person in whom every field that holds words holds a mark of its own."""
    return Person(
        id=PersonId(f"{MARK}id{number}"),
        preferred_name=f"{MARK}name{number}",
        birth=Birth(year=1940),
        latex=LatexReaction.IMMEDIATE,
        contacts=(
            EmergencyContact(
                name=f"{MARK}contact{number}", relation=f"{MARK}tie{number}", phone=f"{MARK}0160"
            ),
        ),
        food_reactions=(f"{MARK}food{number}",),
        hearing_needs=f"{MARK}hearing{number}",
        sight_needs=f"{MARK}sight{number}",
        notes=f"{MARK}note{number}",
        medicines_carried=f"{MARK}medicine{number}",
        limits=(
            Limit(
                measure=Measure.SHOULDER_ELEVATION,
                at_most=1.0,
                strength=Strength.AVOID,
                reason=f"{MARK}limit{number}",
                source=f"{MARK}source{number}",
                rule="told",
                reviewed_on=date(2026, 10, 1),
                told_by=f"{MARK}teller{number}",
            ),
        ),
    )


def marked_session(people: tuple[Person, ...]) -> SessionOutline:
    kinds = (OptionKind.STANDARD, OptionKind.GENTLER, OptionKind.STRONGER, None)
    own = tuple(
        Use(
            person=person.id,
            movement=ROW,
            option=kind,
            why=f"{MARK}why {person.id}",
            with_care=(f"{MARK}care {person.id}",),
        )
        for person, kind in zip(people, kinds, strict=True)
    )
    other = replace(own[0], movement=KNEES)
    return outline(
        stations=(Station(movement=ROW, uses=own), Station(movement=ROW, uses=(other, own[1]))),
        expected=tuple(person.id for person in people),
        notices=(Notice(words=f"{MARK}notice", person=people[0].id), Notice(words=f"{MARK}all")),
    )


def test_the_wall_copy_tells_of_nobody() -> None:
    """With a mark in every field of every person none is on the wall copy, in text or page."""
    people = tuple(marked(number) for number in range(4))
    leaders = sheet_of(marked_session(people), people)

    wall = runsheet.without_names(leaders)

    for made in (sheet_text.text(wall), sheet_html.page(wall), repr(wall)):
        assert MARK not in made.lower()


def test_the_leaders_copy_names_people_but_holds_no_health_notes() -> None:
    """The leader's copy has names and reasons, and nothing of notes, contacts or medicines."""
    people = tuple(marked(number) for number in range(4))

    text = sheet_text.text(sheet_of(marked_session(people), people))

    assert f"{MARK}name1" in text
    assert f"{MARK}why" in text
    for kept_back in ("note1", "contact", "tie", "0160", "medicine", "limit", "teller", "food"):
        assert f"{MARK}{kept_back}" not in text


def test_the_wall_copy_keeps_the_ways_that_anybody_may_choose() -> None:
    """Another person's movement and sitting out vanish; the station's own ways stay in order."""
    wall = runsheet.without_names(sheet_of(session()))

    assert [way.option for way in station(wall, 1).ways] == ["Standard", "Gentler"]
    assert not wall.names_shown


def test_a_page_cannot_be_broken_by_a_name() -> None:
    """Angle brackets in a name are shown, not obeyed."""
    tricky = (replace(PEOPLE[0], preferred_name="<b>Ada</b>"), *PEOPLE[1:])

    page = sheet_html.page(sheet_of(session(), tricky))

    assert "<b>" not in page
    assert "&lt;b&gt;Ada" in page


@pytest.mark.parametrize("width", [60, 88, 120])
def test_text_keeps_within_its_width(width: int) -> None:
    """No line of the text is longer than asked, but titles, which are never broken."""
    lines = sheet_text.text(sheet_of(session()), width=width).splitlines()[2:]

    assert max(len(line) for line in lines) <= width


def test_the_small_sessions_sheet(request: pytest.FixtureRequest) -> None:
    """The text of one small session, word for word; `--golden` writes it anew."""
    text = sheet_text.text(sheet_of(session()))
    if request.config.getoption("--golden"):
        GOLDEN.write_text(text, encoding="utf-8")

    assert text == GOLDEN.read_text(encoding="utf-8")
