"""Typed values handed to templates: words and numbers as people read them, no rows."""

from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum

from django.utils.formats import date_format
from django.utils.timezone import localtime

from halewright.core.people.group import Group
from halewright.core.people.kit import Band, Material
from halewright.core.people.limits import Limit, Strength
from halewright.core.people.person import LatexReaction, Person, PersonId, Standing
from halewright.core.screening.verdict import AskFirst, Outcome
from halewright.core.session.outline import Purpose, SessionOutline
from halewright.store.models import HealthFact, PlanDocument, PlanningRun, RunState

_WORDS: dict[str, str] = {
    "latex_free": "latex-free",
    "not_known": "not known",
    "sit_to_stand": "sit-to-stand",
    "": "",
}
_STANDING = {
    Standing.SEATED_ONLY: "stays seated throughout",
    Standing.TWO_HANDS: "stands with two hands held",
    Standing.ONE_HAND: "stands with one hand held",
    Standing.FINGERTIPS: "stands with fingertips on the chair",
    Standing.NO_SUPPORT: "stands without holding on",
    Standing.NOT_KNOWN: "not asked yet, so stays seated",
}
_LATEX = {
    LatexReaction.NONE: "none known",
    LatexReaction.SKIN: "skin reacts to latex: latex-free bands only",
    LatexReaction.IMMEDIATE: "reacts at once to latex: latex-free bands only",
    LatexReaction.NOT_KNOWN: "not asked yet, so latex-free bands only",
}
PURPOSES = {
    Purpose.HANDLING: "first with bands",
    Purpose.STRENGTH: "strength",
    Purpose.TEST: "test day",
}


def said(word: StrEnum) -> str:
    """Return a word of a closed set as it is read on a page."""
    return _WORDS.get(word.value, word.value.replace("_", " "))


def day(on: date | None) -> str:
    """Return a day in full ("Tuesday 1 December 2026"); "" for None."""
    return "" if on is None else date_format(on, "l j F Y")


def short_day(on: date) -> str:
    """Return a day without its year ("Tue 1 Dec")."""
    return date_format(on, "D j M")


def moment(at: datetime | None) -> str:
    """Return a moment in local time; "" for None."""
    return "" if at is None else date_format(localtime(at), "j F Y, H:i")


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupLine:
    """One line of the list of groups."""

    id: int
    name: str
    people: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PersonLine:
    """One line of the list of people; the counts are words, "" when there is nothing."""

    key: str
    name: str
    avoids: str
    asks: str
    unanswered: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BandLine:
    """One line of the list of kit."""

    label: str
    about: str
    measured: str
    retired: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """What to avoid, or to do with care; why, and who says so."""

    words: str
    strength: str
    avoid: bool
    source: str
    reviewed: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Flag:
    """Something to ask first, and what was answered."""

    flag: str
    words: str
    reason: str
    source: str
    state: str
    waits: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PersonPage:
    """Everything a leader sees about one person."""

    key: str
    name: str
    about: tuple[tuple[str, str], ...]
    contacts: tuple[str, ...]
    flags: tuple[Flag, ...]
    cautions: tuple[Caution, ...]
    watches: tuple[tuple[str, str], ...]
    unanswered: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class NextSession:
    """The session that comes next, large."""

    when: str
    time: str
    title: str
    week: int
    number: int
    expected: str


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupPage:
    """What a leader sees about a group beside its next session."""

    people: tuple[str, ...]
    facts: tuple[tuple[str, str], ...]
    bands: tuple[BandLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FactLine:
    """One dated addition to what is known of a person."""

    what: str
    by: str
    at: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Planning:
    """How far planning has come; `plan_id` is None until the plan is ready."""

    words: str
    percent: int
    running: bool
    plan_id: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanLine:
    """One kept plan: when it was made, and whether it is the one in use."""

    id: int
    made: str
    used: str
    current: bool
    points: int


def counted(count: int, one: str, many: str = "") -> str:
    """Return a number with its word ("3 people"); the plural is the word with an s by default."""
    return f"{count} {one if count == 1 else many or one + 's'}"


def person_line(person: Person, *, outcome: Outcome) -> PersonLine:
    """Return a person's line for the list."""
    avoids = {limit.reason for limit in outcome.limits if limit.strength is Strength.AVOID}
    open_flags = [flag for flag in outcome.flags if flag.decided is not True]
    return PersonLine(
        key=person.id,
        name=person.preferred_name,
        avoids=counted(len(avoids), "thing") + " to avoid" if avoids else "",
        asks=counted(len(open_flags), "question") + " to ask first" if open_flags else "",
        unanswered=counted(len(outcome.unanswered), "answer") + " missing"
        if outcome.unanswered
        else "",
    )


def band_line(band: Band) -> BandLine:
    """Return a band's line for the list of kit."""
    about = [said(band.material), said(band.shape)]
    if band.material is Material.NOT_KNOWN:
        about[0] = "material not known, so counted as latex"
    if band.length_m is not None:
        about.append(f"{band.length_m:.2f} m long")
    if band.width_m is not None:
        about.append(f"{band.width_m * 100:.0f} cm wide")
    measured = counted(len(band.points), "reading") if band.points else "not measured yet"
    return BandLine(
        label=f"{band.label} × {band.count}",
        about=", ".join(about),
        measured=f"retired on {day(band.retired_on)}" if band.retired_on else measured,
        retired=band.retired_on is not None,
    )


def person_page(person: Person, *, outcome: Outcome) -> PersonPage:
    """Return all that the page of a person shows."""
    return PersonPage(
        key=person.id,
        name=person.preferred_name,
        about=tuple((name, words) for name, words in _about(person) if words),
        contacts=tuple(
            f"{contact.name} ({contact.relation}): {contact.phone}" for contact in person.contacts
        ),
        flags=tuple(_flag(flag) for flag in outcome.flags),
        cautions=_cautions(outcome.limits),
        watches=tuple((watch.words, watch.source) for watch in outcome.watches),
        unanswered=outcome.unanswered,
    )


def next_session(sessions: tuple[SessionOutline, ...], *, today: date) -> NextSession | None:
    """Return the first session that is today or later; None when the block is over."""
    coming = next((session for session in sessions if session.on >= today), None)
    if coming is None:
        return None
    return NextSession(
        when="Tonight"
        if coming.on == today and coming.starts_at.hour >= 17
        else "Today"
        if coming.on == today
        else day(coming.on),
        time=coming.starts_at.strftime("%H:%M"),
        title=f"Week {coming.week}, session {coming.number}: {PURPOSES[coming.purpose]}",
        week=coming.week,
        number=coming.number,
        expected=counted(len(coming.expected), "person", "people") + " expected",
    )


def group_page(group: Group) -> GroupPage:
    """Return what a leader sees about a group beside its next session."""
    venue = group.venue
    chairs = {True: "with arms", False: "without arms", None: ""}[venue.chairs_with_arms]
    schedule = group.schedule
    meets = " and ".join(
        f"{said(meeting.day).capitalize()} at {meeting.starts_at:%H:%M}"
        for meeting in schedule.meetings
    )
    facts = (
        ("Place", ", ".join(part for part in (venue.name, venue.address) if part)),
        ("Entrance", venue.entrance),
        ("Defibrillator", venue.defibrillator),
        ("Phone signal", venue.phone_signal),
        ("Chairs", chairs),
        ("Meets", f"{meets}, {schedule.slot_minutes} minutes"),
        ("Block", f"{counted(schedule.weeks, 'week')} from {day(schedule.starts_on)}"),
        ("Wants", ", ".join(goal.replace("_", " ") for goal in group.goals)),
        ("Standing", "nobody stands in this group" if group.seated_only else ""),
    )
    return GroupPage(
        people=tuple(person.preferred_name for person in group.people),
        facts=tuple(fact for fact in facts if fact[1]),
        bands=tuple(band_line(band) for band in group.bands),
    )


def fact_line(fact: HealthFact) -> FactLine:
    """Return one dated addition in the history of a person."""
    return FactLine(
        what=str(fact.get_kind_display()), by=fact.recorded_by.name, at=moment(fact.recorded_at)
    )


def names(group: Group) -> dict[PersonId, str]:
    """Return each person's preferred name by identifier."""
    return {person.id: person.preferred_name for person in group.people}


def _about(person: Person) -> tuple[tuple[str, str], ...]:
    return (
        ("Standing", _STANDING[person.standing]),
        ("Latex", _LATEX[person.latex]),
        ("Food reactions", ", ".join(person.food_reactions)),
        ("Hearing", person.hearing_needs),
        ("Sight", person.sight_needs),
        ("Carries", person.medicines_carried),
        ("Born", day(person.birth.on) or str(person.birth.year) if person.birth else ""),
        ("Comes on", ", ".join(said(each).capitalize() for each in person.days)),
        ("Joined", day(person.joined_on)),
        ("Away", "; ".join(f"{short_day(a)} to {short_day(b)}" for a, b in person.away)),
        ("Notes", person.notes),
    )


def _flag(flag: AskFirst) -> Flag:
    state = {
        None: "Nobody has decided yet: seated movement without a band until then.",
        True: f"Go ahead, says {flag.decided_by}.",
        False: f"Wait, says {flag.decided_by}: seated movement without a band.",
    }[flag.decided]
    return Flag(
        flag=flag.flag,
        words=flag.words,
        reason=flag.reason,
        source=flag.source,
        state=state,
        waits=flag.decided is not True,
    )


def _cautions(limits: tuple[Limit, ...]) -> tuple[Caution, ...]:
    """Return one line for each reason, what to avoid before what to do with care."""
    merged: dict[tuple[str, Strength], Limit] = {}
    for limit in limits:
        merged.setdefault((limit.reason, limit.strength), limit)
    ordered = sorted(merged.values(), key=lambda limit: limit.strength is not Strength.AVOID)
    return tuple(
        Caution(
            words=limit.reason,
            strength="avoid" if limit.strength is Strength.AVOID else "with care",
            avoid=limit.strength is Strength.AVOID,
            source=limit.source,
            reviewed=day(limit.reviewed_on),
        )
        for limit in ordered
    )


def planning(run: PlanningRun) -> Planning:
    """Return how far planning has come."""
    return Planning(
        words=run.said,
        percent=round(run.done_share * 100),
        running=run.state == RunState.RUNNING,
        plan_id=run.plan_id,
    )


def plan_line(plan: PlanDocument, *, current: PlanDocument | None) -> PlanLine:
    """Return one kept plan for the list of plans."""
    return PlanLine(
        id=plan.pk,
        made=f"Planned by {plan.made_by.name}, {moment(plan.made_at)}",
        used=f"in use since {moment(plan.accepted_at)}" if plan.accepted_at else "not used yet",
        current=current is not None and current.pk == plan.pk,
        points=plan.objective,
    )
