"""Row ⇄ core value, one function each way; documents carry a schema name and a version."""

from dataclasses import dataclass, replace
from datetime import date
from typing import Any, TypeVar

import msgspec

from halewright.core.errors import HalewrightError
from halewright.core.people.group import Decision, LocalRule, RawScreen, Schedule, Venue
from halewright.core.people.group import Group as CoreGroup
from halewright.core.people.kit import Band as CoreBand
from halewright.core.people.kit import BandCheck, BandLabel, Material, MeasuredPoint, Phase, Shape
from halewright.core.people.limits import Limit
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
from halewright.core.planning.plan import Acceptance, Plan
from halewright.files import documents
from halewright.store import models

VERSION = 1
GROUP_SCHEMA = "halewright.group"
PLAN_SCHEMA = documents.PLAN
PLAN_VERSION = documents.latest(documents.PLAN)
FACT_SCHEMA = "halewright.health-fact"

T = TypeVar("T")


class DocumentTooNew(HalewrightError):
    """A saved document has a schema or version that this Halewright does not know."""

    def __init__(self, *, schema: str, version: int) -> None:
        """Say what was found and how to mend it."""
        super().__init__(
            f"This was saved as {schema}, version {version}, which this Halewright cannot read. "
            "Use the Halewright that saved it, or a newer one."
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """The part of a group that is kept as a document: all but people, health and kit."""

    name: str
    venue: Venue
    schedule: Schedule
    goals: tuple[str, ...]
    local_rules: tuple[LocalRule, ...]
    seated_only: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class About:
    """What is known of a person's health apart from limits, screens and decisions."""

    stature_m: float | None
    mass_kg: float | None
    latex: LatexReaction
    food_reactions: tuple[str, ...]
    standing: Standing
    hearing_needs: str
    sight_needs: str
    print_size_pt: float | None
    medicines_carried: str
    notes: str


def document(value: object) -> dict[str, Any]:
    """Return a core value as plain dictionaries, lists, text and numbers."""
    plain: dict[str, Any] = msgspec.to_builtins(value)
    return plain


def _value(plain: object, *, kind: type[T]) -> T:
    return msgspec.convert(plain, type=kind)


def _known(*, schema: str, version: int, expected: str) -> None:
    if (schema, version) != (expected, VERSION):
        raise DocumentTooNew(schema=schema, version=version)


def fact_text(value: About | RawScreen | Decision | tuple[Limit, ...]) -> str:
    """Return a health fact as the text that is kept; equal values give equal text."""
    return msgspec.json.encode(value, order="sorted").decode()


def about(person: Person) -> About:
    """Return the part of a person that is kept as the fact ABOUT."""
    return About(
        stature_m=person.stature_m,
        mass_kg=person.mass_kg,
        latex=person.latex,
        food_reactions=person.food_reactions,
        standing=person.standing,
        hearing_needs=person.hearing_needs,
        sight_needs=person.sight_needs,
        print_size_pt=person.print_size_pt,
        medicines_carried=person.medicines_carried,
        notes=person.notes,
    )


def frame(group: CoreGroup) -> Frame:
    """Return the part of a group that is kept as its document."""
    return Frame(
        name=group.name,
        venue=group.venue,
        schedule=group.schedule,
        goals=group.goals,
        local_rules=group.local_rules,
        seated_only=group.seated_only,
    )


def participant_columns(person: Person) -> dict[str, Any]:
    """Return the columns of a participant's row, without key, place and group."""
    return {
        "preferred_name": person.preferred_name,
        "sex": person.sex.value,
        "birth_year": person.birth.year if person.birth else None,
        "born_on": person.birth.on if person.birth else None,
        "joined_on": person.joined_on,
        "left_on": None,
        "days": [day.value for day in person.days],
        "away": [[first.isoformat(), last.isoformat()] for first, last in person.away],
        "contacts": [document(contact) for contact in person.contacts],
    }


def person(row: models.Participant, *, facts: tuple[models.HealthFact, ...]) -> Person:
    """Return a participant with the newest facts; `facts` are in order of recording."""
    known: About | None = None
    limits: tuple[Limit, ...] = ()
    for fact in facts:
        _known(schema=fact.schema, version=fact.version, expected=FACT_SCHEMA)
        if fact.kind == models.FactKind.ABOUT:
            known = msgspec.json.decode(fact.text, type=About)
        elif fact.kind == models.FactKind.LIMITS:
            limits = msgspec.json.decode(fact.text, type=tuple[Limit, ...])
    columns: dict[str, Any] = (
        {field: getattr(known, field) for field in About.__slots__} if known else {}
    )
    return Person(
        id=PersonId(row.key),
        preferred_name=row.preferred_name,
        birth=Birth(year=row.birth_year, on=row.born_on) if row.birth_year else None,
        sex=Sex(row.sex),
        days=tuple(Weekday(day) for day in row.days),
        joined_on=row.joined_on,
        away=tuple(
            (date.fromisoformat(first), date.fromisoformat(last)) for first, last in row.away
        ),
        contacts=tuple(_value(contact, kind=EmergencyContact) for contact in row.contacts),
        limits=limits,
        **columns,
    )


def screen(fact: models.HealthFact) -> RawScreen:
    """Return a screen as it was answered."""
    _known(schema=fact.schema, version=fact.version, expected=FACT_SCHEMA)
    return msgspec.json.decode(fact.text, type=RawScreen)


def decision(fact: models.HealthFact) -> Decision:
    """Return a decision on an ask-first flag."""
    _known(schema=fact.schema, version=fact.version, expected=FACT_SCHEMA)
    return msgspec.json.decode(fact.text, type=Decision)


def band_columns(band: CoreBand) -> dict[str, Any]:
    """Return the columns of a band's row, without label and group."""
    return {
        "material": band.material.value,
        "shape": band.shape.value,
        "length_m": band.length_m,
        "width_m": band.width_m,
        "count": band.count,
        "rank": band.rank,
        "bought_on": band.bought_on,
        "checked_on": band.checked_on,
        "retired_on": band.retired_on,
        "first_used_on": band.first_used_on,
        "batch": band.batch,
        "checks": [document(check) for check in band.checks],
    }


def band(row: models.Band, *, points: tuple[models.BandPoint, ...]) -> CoreBand:
    """Return a band with its measured points in the order in which they were kept."""
    return CoreBand(
        label=BandLabel(row.label),
        material=Material(row.material),
        shape=Shape(row.shape),
        length_m=row.length_m,
        width_m=row.width_m,
        count=row.count,
        rank=row.rank,
        bought_on=row.bought_on,
        checked_on=row.checked_on,
        retired_on=row.retired_on,
        first_used_on=row.first_used_on,
        batch=row.batch,
        checks=tuple(_value(check, kind=BandCheck) for check in row.checks),
        points=tuple(
            MeasuredPoint(
                slack_length_m=point.slack_length_m,
                stretched_length_m=point.stretched_length_m,
                reading_n=point.reading_n,
                phase=Phase(point.phase),
            )
            for point in points
        ),
    )


def group(
    row: models.Group,
    *,
    people: tuple[Person, ...],
    screens: tuple[RawScreen, ...],
    decisions: tuple[Decision, ...],
    bands: tuple[CoreBand, ...],
) -> CoreGroup:
    """Return a group from its row and from what its other tables hold."""
    _known(schema=row.schema, version=row.version, expected=GROUP_SCHEMA)
    kept = _value(row.document, kind=Frame)
    return CoreGroup(
        name=kept.name,
        venue=kept.venue,
        schedule=kept.schedule,
        goals=kept.goals,
        local_rules=kept.local_rules,
        seated_only=kept.seated_only,
        people=people,
        screens=screens,
        decisions=decisions,
        bands=bands,
    )


def plan(row: models.PlanDocument, *, accepted: tuple[models.AcceptedBreach, ...]) -> Plan:
    """Return a kept plan with the breaches that have been accepted since it was made."""
    if row.schema != PLAN_SCHEMA or not 1 <= row.version <= PLAN_VERSION:
        raise DocumentTooNew(schema=row.schema, version=row.version)
    content: dict[str, Any] = row.document
    for step in range(row.version, PLAN_VERSION):
        content = documents.UPGRADES[PLAN_SCHEMA][step](content)
    kept = _value(content, kind=Plan)
    return replace(kept, accepted=kept.accepted + tuple(acceptance(breach) for breach in accepted))


def acceptance(row: models.AcceptedBreach) -> Acceptance:
    """Return a leader's last word on a breach; 0 and "" stand for "wider than that"."""
    return Acceptance(
        rule=row.rule,
        who=row.who,
        on=row.at.date(),
        why=row.why,
        week=row.week or None,
        session=row.session or None,
        station=row.station or None,
        person=PersonId(row.person) if row.person else None,
    )
