"""What is printed for a session, as templates show it."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from halewright.core.people.group import Group
from halewright.core.people.person import LatexReaction, PersonId
from halewright.core.session.runsheet import Item, RunSheet, Section, Way
from halewright.web import block_context, context
from halewright.web.block_context import Icon


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """What a crew must know about one person, and whom to ring."""

    name: str
    contacts: tuple[str, ...]
    facts: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cards:
    """The place, for the call, and a card for everybody who is expected."""

    place: tuple[tuple[str, str], ...]
    people: tuple[Card, ...]


def cards(group: Group, *, expected: tuple[PersonId, ...]) -> Cards:
    """Return the emergency cards of everybody who is expected."""
    venue = group.venue
    place = (
        ("Where", ", ".join(part for part in (venue.name, venue.address) if part)),
        ("Which door", venue.entrance or "not recorded"),
        ("Defibrillator", venue.defibrillator or "not recorded"),
        ("Phone signal", venue.phone_signal or "not recorded"),
    )
    people = []
    for person in group.people:
        if person.id not in expected:
            continue
        latex = {
            LatexReaction.IMMEDIATE: "reacts at once to latex",
            LatexReaction.SKIN: "skin reacts to latex",
        }.get(person.latex, "")
        reactions = ", ".join(part for part in (latex, *person.food_reactions) if part)
        facts = (
            ("Carries", person.medicines_carried),
            ("Reacts to", reactions),
            ("Hearing", person.hearing_needs),
            ("Sight", person.sight_needs),
        )
        people.append(
            Card(
                name=person.preferred_name,
                contacts=tuple(
                    f"{contact.name} ({contact.relation}) {contact.phone}"
                    for contact in person.contacts
                ),
                facts=tuple(fact for fact in facts if fact[1]),
            )
        )
    return Cards(place=place, people=tuple(people))


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetItem:
    """One station on the run sheet; `number` is "" outside the main part."""

    number: str
    title: str
    icon: Icon
    set_up: str
    start: str
    points: str
    safety: str
    ways: tuple[tuple[str, str, str], ...]
    """The way, how it is done, and who does it ("" on the wall copy)."""
    care: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetSection:
    """A part of the session on the clock."""

    at: str
    title: str
    words: str
    items: tuple[SheetItem, ...]
    is_main: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A run sheet as it is printed."""

    title: str
    when: str
    shape: str
    marks: tuple[str, ...]
    expected: str
    notices: tuple[tuple[str, str], ...]
    sections: tuple[SheetSection, ...]


def sheet(run_sheet: RunSheet) -> Sheet:
    """Return a run sheet as it is printed, with the time of day at each part."""
    begins = datetime.combine(run_sheet.on, run_sheet.starts_at)
    marks = []
    if run_sheet.latex_free:
        marks.append("Latex-free bands only")
    if run_sheet.easier_week:
        marks.append("Lighter week")
    return Sheet(
        title=f"Week {run_sheet.week}, session {run_sheet.number}",
        when=f"{context.day(run_sheet.on)}, {run_sheet.starts_at:%H:%M}",
        shape=f"{context.counted(run_sheet.rounds, 'round')} of "
        f"{run_sheet.work_ms // 1000} seconds’ work",
        marks=tuple(marks),
        expected=", ".join(run_sheet.expected),
        notices=tuple((notice.who, notice.words) for notice in run_sheet.notices),
        sections=tuple(_section(section, begins=begins) for section in run_sheet.sections),
    )


def _section(section: Section, *, begins: datetime) -> SheetSection:
    at = begins + timedelta(milliseconds=section.start_ms)
    return SheetSection(
        at=f"{at:%H:%M}",
        title=section.title,
        words=section.words,
        items=tuple(_item(item) for item in section.items),
        is_main=any(item.number is not None for item in section.items),
    )


def _item(item: Item) -> SheetItem:
    return SheetItem(
        number="" if item.number is None else str(item.number),
        title=f"{item.title}, {item.sides}" if item.sides else item.title,
        icon=block_context.icon(item.set_up),
        set_up=item.set_up_how,
        start=item.start,
        points=" ".join(item.points),
        safety=item.safety,
        ways=tuple(_way(way) for way in item.ways),
        care=_care(item),
    )


def _care(item: Item) -> tuple[tuple[str, str], ...]:
    """Return who needs care, those with the same reason together."""
    who: dict[str, list[str]] = {}
    for care in item.care:
        who.setdefault(care.words, []).append(care.who)
    return tuple((", ".join(names), words) for words, names in who.items())


def _way(way: Way) -> tuple[str, str, str]:
    name = f"{way.movement}, {way.option.lower()}" if way.movement else way.option
    return name, way.how, ", ".join(way.who)
