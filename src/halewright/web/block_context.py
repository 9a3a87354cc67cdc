"""The block at a glance, its breaches and one session, as templates show them."""

from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

from halewright.core.catalogue.movement import Catalogue, Movement
from halewright.core.catalogue.words import SetUp
from halewright.core.people.group import Group, Schedule
from halewright.core.people.person import PersonId, Weekday
from halewright.core.planning.plan import Acceptance, Plan, Violation
from halewright.core.session.outline import Purpose, SessionOutline, Station
from halewright.web import context

Breaches = tuple[tuple[Violation, Acceptance | None], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Icon:
    """A set-up as a small picture with its name; `file` is the template that draws it."""

    name: str
    file: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One session in the block, or a date without one (`off`)."""

    day: str
    off: str = ""
    week: int = 0
    number: int = 0
    title: str = ""
    shape: str = ""
    patterns: str = ""
    set_ups: tuple[Icon, ...] = ()
    changeovers: str = ""
    breaches: str = ""
    notices: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Week:
    """One week of the block, with a cell for each day on which the group meets."""

    number: int
    note: str
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Calendar:
    """The whole block: days across, weeks down."""

    days: tuple[str, ...]
    weeks: tuple[Week, ...]
    key: tuple[Icon, ...]
    breaches: str
    whole_block: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BreachLine:
    """One breach with what a form must send to name it, and its acceptance."""

    number: int
    words: str
    where: str
    who: str
    incurable: bool
    accepted: str
    place: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StationLine:
    """One station of a session: the movement, the set-up and who does it in which way."""

    name: str
    set_up: Icon
    ways: tuple[tuple[str, tuple[tuple[str, str], ...]], ...]
    """Each way that is not the group's own, with who does it and why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartOfSession:
    """Warm-up, main part or cool-down."""

    title: str
    about: str
    stations: tuple[StationLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SessionPage:
    """One session as it is planned."""

    title: str
    when: str
    week: int
    number: int
    expected: tuple[str, ...]
    notices: tuple[str, ...]
    parts: tuple[PartOfSession, ...]


def icon(set_up: SetUp) -> Icon:
    """Return the picture of a set-up."""
    name = {SetUp.NONE: "no band", SetUp.CHAIR: "band on the chair"}.get(
        set_up, f"band {context.said(set_up)}"
    )
    return Icon(name=name, file=f"web/set_ups/{set_up.value}.html")


def calendar(plan: Plan, *, group: Group, catalogue: Catalogue, breaches: Breaches) -> Calendar:
    """Return the block at a glance; accepted breaches are not counted again."""
    open_breaches = [breach for breach, accepted in breaches if accepted is None]
    at = {(session.week, session.number): session for session in plan.sessions}
    days = group.schedule.meetings
    weeks = []
    for number in range(1, max(plan.weeks, group.schedule.weeks) + 1):
        sessions = [session for session in plan.sessions if session.week == number]
        cells = tuple(
            _cell(session, catalogue=catalogue, breaches=open_breaches)
            if isinstance(session, SessionOutline)
            else _day_off(session, schedule=group.schedule)
            for session in _by_meeting(sessions, week=number, schedule=group.schedule)
        )
        weeks.append(Week(number=number, note=_week_note(sessions), cells=cells))
    used = {
        _movement(station, catalogue=catalogue).standard.set_up
        for session in at.values()
        for station in session.main
    }
    wide = tuple(breach.words for breach in open_breaches if breach.session is None)
    count = len(open_breaches)
    return Calendar(
        days=tuple(f"{context.said(meeting.day).capitalize()}" for meeting in days),
        weeks=tuple(weeks),
        key=tuple(icon(set_up) for set_up in SetUp if set_up in used),
        breaches=context.counted(count, "breach", "breaches") if count else "",
        whole_block=wide,
    )


def breach_lines(breaches: Breaches, *, group: Group) -> tuple[BreachLine, ...]:
    """Return the breaches of a plan, those still open first."""
    names = context.names(group)
    ordered = sorted(breaches, key=lambda pair: pair[1] is not None)
    return tuple(
        _breach_line(breach, number=number, accepted=accepted, names=names)
        for number, (breach, accepted) in enumerate(ordered, start=1)
    )


def session_page(session: SessionOutline, *, group: Group, catalogue: Catalogue) -> SessionPage:
    """Return one session as it is planned."""
    names = context.names(group)
    rounds = context.counted(session.rounds, "round")
    about = f"{rounds}, {session.work_ms // 1000} seconds of work at each station"
    return SessionPage(
        title=f"Week {session.week}, session {session.number}",
        when=f"{context.day(session.on)}, {session.starts_at:%H:%M}",
        week=session.week,
        number=session.number,
        expected=tuple(names.get(person, person) for person in session.expected),
        notices=tuple(
            f"{names.get(notice.person, notice.person)}: {notice.words}"
            if notice.person
            else notice.words
            for notice in session.notices
        ),
        parts=(
            _part("Warm-up", session.warm_up, about="", names=names, catalogue=catalogue),
            _part("Main part", session.main, about=about, names=names, catalogue=catalogue),
            _part("Cool-down", session.cool_down, about="", names=names, catalogue=catalogue),
        ),
    )


def place(breach: Violation) -> dict[str, str]:
    """Return what a form sends to name a breach."""
    return {
        "rule": breach.rule,
        "week": str(breach.week or ""),
        "session": str(breach.session or ""),
        "station": str(breach.station or ""),
        "person": breach.person or "",
    }


def _cell(session: SessionOutline, *, catalogue: Catalogue, breaches: list[Violation]) -> Cell:
    movements = [_movement(station, catalogue=catalogue) for station in session.main]
    patterns = dict.fromkeys(context.said(movement.pattern) for movement in movements)
    set_ups = [movement.standard.set_up for movement in movements]
    moves = _changes(set_ups, rounds=session.rounds)
    mine = [b for b in breaches if (b.week, b.session) == (session.week, session.number)]
    return Cell(
        day=context.short_day(session.on),
        week=session.week,
        number=session.number,
        title=context.PURPOSES[session.purpose],
        shape=f"{context.counted(len(movements), 'station')} × "
        f"{context.counted(session.rounds, 'round')}",
        patterns=", ".join(patterns),
        set_ups=tuple(icon(set_up) for set_up in set_ups),
        changeovers=f"{context.counted(moves, 'change')} of set-up",
        breaches=context.counted(len(mine), "breach", "breaches") if mine else "",
        notices=context.counted(len(session.notices), "notice") if session.notices else "",
    )


def _by_meeting(
    sessions: list[SessionOutline], *, week: int, schedule: Schedule
) -> list[SessionOutline | date]:
    """Return a week's sessions in the order of its meetings, a date where there is none."""
    begins = schedule.starts_on + timedelta(weeks=week - 1)
    weekdays = list(Weekday)
    placed: list[SessionOutline | date] = []
    left = list(sessions)
    for meeting in schedule.meetings:
        on = begins + timedelta(days=(weekdays.index(meeting.day) - begins.weekday()) % 7)
        held = next((s for s in left if (s.on, s.starts_at) == (on, meeting.starts_at)), None)
        if held is not None:
            left.remove(held)
        placed.append(held or on)
    return placed + left


def _day_off(on: date, *, schedule: Schedule) -> Cell:
    why = "no session: a date off" if on in schedule.dates_off else "no session"
    return Cell(day=context.short_day(on), off=why)


def _changes(set_ups: list[SetUp], *, rounds: int) -> int:
    """Return how often the band moves to another place in the main part, all rounds together."""
    within = sum(first is not second for first, second in pairwise(set_ups))
    between = int(bool(set_ups) and set_ups[-1] is not set_ups[0])
    return within * rounds + between * max(rounds - 1, 0)


def _week_note(sessions: list[SessionOutline]) -> str:
    if not sessions:
        return "no session"
    if any(session.purpose is Purpose.TEST for session in sessions):
        return "test week"
    return "lighter week" if any(session.easier_week for session in sessions) else ""


def _movement(station: Station, *, catalogue: Catalogue) -> Movement:
    return catalogue[station.movement]


def _breach_line(
    breach: Violation,
    *,
    number: int,
    accepted: Acceptance | None,
    names: dict[PersonId, str],
) -> BreachLine:
    where = [
        f"{word} {count}"
        for word, count in (
            ("week", breach.week),
            ("session", breach.session),
            ("station", breach.station),
        )
        if count is not None
    ]
    return BreachLine(
        number=number,
        words=breach.words,
        where=", ".join(where).capitalize() or "The whole block",
        who=names.get(breach.person, breach.person) if breach.person else "",
        incurable=breach.incurable,
        accepted=f"Accepted by {accepted.who} on {context.day(accepted.on)}: {accepted.why}"
        if accepted
        else "",
        place=tuple(place(breach).items()),
    )


def _part(
    title: str,
    stations: tuple[Station, ...],
    *,
    about: str,
    names: dict[PersonId, str],
    catalogue: Catalogue,
) -> PartOfSession:
    return PartOfSession(
        title=title,
        about=about,
        stations=tuple(
            _station_line(station, names=names, catalogue=catalogue) for station in stations
        ),
    )


def _station_line(
    station: Station, *, names: dict[PersonId, str], catalogue: Catalogue
) -> StationLine:
    movement = _movement(station, catalogue=catalogue)
    ways: dict[str, list[tuple[str, str]]] = {}
    for use in station.uses:
        if use.movement != station.movement:
            way = f"{catalogue[use.movement].name} instead"
        elif use.option is None:
            way = "sits this one out"
        elif use.option.value == "standard":
            continue
        else:
            way = context.said(use.option)
        name = names.get(use.person, use.person)
        reason = use.why or "; ".join(use.with_care)
        ways.setdefault(way, []).append((name, reason))
    return StationLine(
        name=movement.name,
        set_up=icon(movement.standard.set_up),
        ways=tuple((way, tuple(who)) for way, who in ways.items()),
    )
