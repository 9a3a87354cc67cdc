"""The run sheet: what the leader reads, in the order it happens, and a wall copy without names."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, time

from halewright.core.catalogue.movement import Catalogue, Movement
from halewright.core.catalogue.words import OptionKind, SetUp
from halewright.core.people.person import Person, PersonId
from halewright.core.session import layout
from halewright.core.session.outline import Purpose, SessionOutline, Station, Use
from halewright.core.session.timeline import Event, EventKind, Timeline

OPTION_WORDS = {
    OptionKind.STANDARD: "Standard",
    OptionKind.GENTLER: "Gentler",
    OptionKind.STRONGER: "Stronger",
    OptionKind.WITHOUT_BAND: "Without band",
}
SITS_OUT = "Sits this one out"
EVERYONE = "Everyone"
EVERYONE_ELSE = "Everyone else"


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One way of doing a station, and who uses it ("" names nobody: the wall copy).

    `movement` is the other movement's name where somebody does another one, else "".
    """

    option: str
    how: str
    who: tuple[str, ...]
    movement: str = ""
    why: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Care:
    """What to keep an eye on for one person at a station."""

    who: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """One station on the sheet; `number` counts stations of the main part from 1, else None."""

    number: int | None
    title: str
    sides: str
    set_up: SetUp
    set_up_how: str
    start: str
    points: tuple[str, ...]
    breath: str
    safety: str
    ways: tuple[Way, ...]
    care: tuple[Care, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A part of the session on the clock, with its items (none for a welcome or water)."""

    title: str
    start_ms: int
    end_ms: int
    words: str
    items: tuple[Item, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Remark:
    """One thing about one person, once, with the main stations it is about (none: elsewhere)."""

    who: str
    words: str
    stations: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetNotice:
    """A notice with the person's name, "" for one that concerns everybody."""

    who: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RunSheet:
    """One session's sheet. The leader's copy names people; `without_names` does not."""

    week: int
    number: int
    on: date
    starts_at: time
    slot_ms: int
    purpose: Purpose
    rounds: int
    work_ms: int
    easier_week: bool
    latex_free: bool
    expected: tuple[str, ...]
    notices: tuple[SheetNotice, ...]
    sections: tuple[Section, ...]
    names_shown: bool = True


def run_sheet(
    *, outline: SessionOutline, timeline: Timeline, catalogue: Catalogue, people: tuple[Person, ...]
) -> RunSheet:
    """Return the leader's copy; a person whom the group no longer has is shown by identifier."""
    names = {person.id: person.preferred_name for person in people}
    return RunSheet(
        week=outline.week,
        number=outline.number,
        on=outline.on,
        starts_at=outline.starts_at,
        slot_ms=outline.slot_ms,
        purpose=outline.purpose,
        rounds=outline.rounds,
        work_ms=outline.work_ms,
        easier_week=outline.easier_week,
        latex_free=outline.latex_free,
        expected=tuple(_name(person, names) for person in outline.expected),
        notices=tuple(
            SheetNotice(
                who=_name(notice.person, names) if notice.person else "", words=notice.words
            )
            for notice in outline.notices
        ),
        sections=_sections(outline, timeline, catalogue, names),
    )


def reasons(sheet: RunSheet) -> tuple[Remark, ...]:
    """Return why people do not use the group's way, each reason once for each person."""
    return _remarks(
        (who, words, item.number)
        for section in sheet.sections
        for item in section.items
        for way in item.ways
        for who, words in (why.split(": ", 1) for why in way.why)
    )


def cares(sheet: RunSheet) -> tuple[Remark, ...]:
    """Return what to keep an eye on, each thing once for each person."""
    return _remarks(
        (care.who, care.words, item.number)
        for section in sheet.sections
        for item in section.items
        for care in item.care
    )


def _remarks(told: Iterable[tuple[str, str, int | None]]) -> tuple[Remark, ...]:
    stations: dict[tuple[str, str], list[int]] = {}
    for who, words, number in told:
        stations.setdefault((who, words), []).extend([number] if number else [])
    return tuple(
        Remark(who=who, words=words, stations=tuple(sorted(set(numbers))))
        for (who, words), numbers in sorted(stations.items())
    )


def without_names(sheet: RunSheet) -> RunSheet:
    """Return the wall copy: the same session, with nothing that tells of anybody."""
    sections = tuple(
        replace(
            section,
            items=tuple(replace(item, ways=_shown_to_all(item), care=()) for item in section.items),
        )
        for section in sheet.sections
    )
    return replace(sheet, expected=(), notices=(), sections=sections, names_shown=False)


def _shown_to_all(item: Item) -> tuple[Way, ...]:
    """Keep the ways of this movement that anybody may choose, in a fixed order."""
    return tuple(
        replace(way, who=(), why=())
        for way in item.ways
        if not way.movement and way.option != SITS_OUT
    )


def _name(person: PersonId, names: dict[PersonId, str]) -> str:
    return names.get(person, person)


def _sections(
    outline: SessionOutline,
    timeline: Timeline,
    catalogue: Catalogue,
    names: dict[PersonId, str],
) -> tuple[Section, ...]:
    cues = {cue.at_ms: cue.words for cue in timeline.cues}
    sections: list[Section] = []
    for kinds, title, stations in (
        ({EventKind.WELCOME}, layout.WELCOME, ()),
        ({EventKind.WARM_UP}, "Warm-up", outline.warm_up),
        ({EventKind.GET_READY}, "Bands out and checked", ()),
    ):
        sections += _section(timeline, kinds, title, cues, _items(stations, catalogue, names))
    sections += _main_sections(outline, timeline, catalogue, names)
    cool_down = _items(outline.cool_down, catalogue, names)
    sections += _section(timeline, {EventKind.COOL_DOWN}, "Cool-down", cues, cool_down)
    for event in timeline.events:
        if event.kind is EventKind.CLOSE:
            sections.append(_plain(event, cues.get(event.start_ms, "")))
    return tuple(sections)


def _section(
    timeline: Timeline,
    kinds: set[EventKind],
    title: str,
    cues: dict[int, str],
    items: tuple[Item, ...],
) -> list[Section]:
    events = [event for event in timeline.events if event.kind in kinds]
    if not events:
        return []
    words = "" if items else cues.get(events[0].start_ms, "")
    return [
        Section(
            title=title,
            start_ms=events[0].start_ms,
            end_ms=events[-1].end_ms,
            words=words,
            items=items,
        )
    ]


def _plain(event: Event, words: str) -> Section:
    return Section(title=event.title, start_ms=event.start_ms, end_ms=event.end_ms, words=words)


def _main_sections(
    outline: SessionOutline,
    timeline: Timeline,
    catalogue: Catalogue,
    names: dict[PersonId, str],
) -> list[Section]:
    """Return the circuit as one section, then what follows it before the cool-down."""
    works = [event for event in timeline.events if event.kind is EventKind.WORK]
    if not works:
        return []
    rounds = f"{outline.rounds} rounds" if outline.rounds > 1 else "1 round"
    stations = f"{len(outline.main)} station{'s' if len(outline.main) > 1 else ''}"
    words = f"{rounds} of {stations}, {outline.work_ms // 1000} seconds of work."
    circuit = Section(
        title="Main part",
        start_ms=works[0].start_ms,
        end_ms=works[-1].end_ms,
        words=words + (" Water between rounds." if outline.rounds > 1 else ""),
        items=_items(outline.main, catalogue, names, numbered=True),
    )
    after = [
        _plain(event, "")
        for event in timeline.events
        if event.start_ms >= circuit.end_ms and event.kind in {EventKind.WATER, EventKind.REST}
    ]
    return [circuit, *after]


def _items(
    stations: tuple[Station, ...],
    catalogue: Catalogue,
    names: dict[PersonId, str],
    *,
    numbered: bool = False,
) -> tuple[Item, ...]:
    return tuple(
        _item(station, catalogue, names, number=index if numbered else None)
        for index, station in enumerate(stations, start=1)
    )


def _item(
    station: Station, catalogue: Catalogue, names: dict[PersonId, str], *, number: int | None
) -> Item:
    movement = layout.movement_of(station, catalogue)
    sides = layout.sides_in_turn(movement.standard)
    return Item(
        number=number,
        title=movement.name,
        sides="each side" if len(sides) > 1 else sides[0].value.replace("both", ""),
        set_up=movement.standard.set_up,
        set_up_how=movement.teaching.set_up if movement.standard.paths else "",
        start=movement.teaching.start,
        points=movement.teaching.points,
        breath=movement.teaching.breath,
        safety=movement.teaching.safety,
        ways=_ways(station, movement, catalogue, names),
        care=tuple(
            Care(who=_name(use.person, names), words=" ".join(use.with_care))
            for use in station.uses
            if use.with_care
        ),
    )


def _ways(
    station: Station, movement: Movement, catalogue: Catalogue, names: dict[PersonId, str]
) -> tuple[Way, ...]:
    """Group the uses by way, the most used first named as everyone (else)."""
    groups: dict[tuple[str, OptionKind | None], list[Use]] = {}
    for use in station.uses:
        groups.setdefault((use.movement, use.option), []).append(use)
    if not groups:
        return (_way(movement, movement.standard.kind, (EVERYONE,), "", ()),)
    ordered = sorted(groups.items(), key=lambda pair: _order(pair[0], movement))
    ways = []
    for (identifier, kind), uses in ordered:
        other = catalogue.get(uses[0].movement, movement)
        who = tuple(_name(use.person, names) for use in uses)
        if identifier == movement.id and kind is OptionKind.STANDARD and len(groups) == 1:
            who = (EVERYONE,)
        elif identifier == movement.id and kind is OptionKind.STANDARD:
            who = (EVERYONE_ELSE,)
        why = tuple(f"{_name(use.person, names)}: {use.why}" for use in uses if use.why)
        named = "" if identifier == movement.id else other.name
        ways.append(_way(other, kind, who, named, why))
    return tuple(ways)


def _order(key: tuple[str, OptionKind | None], movement: Movement) -> tuple[bool, int, str]:
    kinds = list(OptionKind)
    place = kinds.index(key[1]) if key[1] is not None else len(kinds)
    return key[0] != movement.id, place, key[0]


def _way(
    movement: Movement,
    kind: OptionKind | None,
    who: tuple[str, ...],
    named: str,
    why: tuple[str, ...],
) -> Way:
    if kind is None:
        return Way(option=SITS_OUT, how="", who=who, why=why)
    how = movement.option(kind).how
    return Way(option=OPTION_WORDS[kind], how=how, who=who, movement=named, why=why)
