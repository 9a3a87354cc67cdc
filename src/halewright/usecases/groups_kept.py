"""Groups in the database: keep one that was read, and return one that was kept."""

from dataclasses import dataclass
from datetime import datetime

from django.db import transaction
from django.utils.text import slugify

from halewright.core.errors import HalewrightError
from halewright.core.people.group import Decision, RawScreen
from halewright.core.people.group import Group as CoreGroup
from halewright.core.people.limits import Limit
from halewright.core.people.person import Person, PersonId
from halewright.store import mapping, models, queries
from halewright.usecases import bands


class NoSuchGroup(HalewrightError):
    """No group with this number is kept in the organisation."""

    def __init__(self, group_id: int) -> None:
        """Say where the groups are listed."""
        super().__init__(
            f"There is no group number {group_id}. Choose one from the list of groups."
        )


class NoSuchPerson(HalewrightError):
    """A group does not list this person."""

    def __init__(self, person: str) -> None:
        """Name who was asked for."""
        super().__init__(f"The group lists nobody with the identifier “{person}”.")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Recorder:
    """Who records facts, and when."""

    by: models.Member
    at: datetime

    def add(
        self,
        participant: models.Participant,
        *,
        kind: models.FactKind,
        value: mapping.About | RawScreen | Decision | tuple[Limit, ...],
    ) -> models.HealthFact:
        return models.HealthFact(
            organisation_id=participant.organisation_id,
            participant=participant,
            kind=kind,
            schema=mapping.FACT_SCHEMA,
            version=mapping.VERSION,
            text=mapping.fact_text(value),
            recorded_by=self.by,
            recorded_at=self.at,
        )


@transaction.atomic
def keep(
    group: CoreGroup, *, organisation: models.Organisation, by: models.Member, at: datetime
) -> models.Group:
    """Keep a group under its name; what was recorded about health is added to, never replaced.

    A person whom the newer list no longer names is marked as gone; nothing about them is removed.
    """
    schedule = group.schedule
    row, _ = models.Group.objects.update_or_create(
        organisation=organisation,
        key=slugify(group.name)[:80] or "group",
        defaults={
            "name": group.name,
            "schema": mapping.GROUP_SCHEMA,
            "version": mapping.VERSION,
            "document": mapping.document(mapping.frame(group)),
            "starts_on": schedule.starts_on,
            "weeks": schedule.weeks,
            "kept_at": at,
            "kept_by": by,
        },
    )
    participants = _keep_people(group, row=row, at=at)
    _add_facts(group, participants=participants, recorder=_Recorder(by=by, at=at))
    _keep_bands(group, row=row)
    return row


def kept(*, group_id: int, organisation: models.Organisation) -> CoreGroup:
    """Return a kept group; raises NoSuchGroup for another organisation's."""
    row = queries.group_in(organisation, group_id=group_id)
    if row is None:
        raise NoSuchGroup(group_id)
    return queries.whole(row)


@transaction.atomic
def decide(
    decision: Decision, *, group: models.Group, by: models.Member, at: datetime
) -> models.HealthFact:
    """Record a named person's answer to an ask-first flag; raises NoSuchPerson."""
    participant = queries.participant_in(group, key=decision.person)
    if participant is None:
        raise NoSuchPerson(decision.person)
    fact = _Recorder(by=by, at=at).add(participant, kind=models.FactKind.DECISION, value=decision)
    fact.save()
    return fact


def _keep_people(
    group: CoreGroup, *, row: models.Group, at: datetime
) -> dict[PersonId, models.Participant]:
    kept_rows = {}
    for place, person in enumerate(group.people, start=1):
        kept_rows[person.id], _ = models.Participant.objects.update_or_create(
            group=row,
            key=person.id,
            defaults={
                "organisation_id": row.organisation_id,
                "place": place,
                **mapping.participant_columns(person),
            },
        )
    row.participants.filter(left_on__isnull=True).exclude(key__in=list(kept_rows)).update(
        left_on=at.date()
    )
    return kept_rows


def _add_facts(
    group: CoreGroup, *, participants: dict[PersonId, models.Participant], recorder: _Recorder
) -> None:
    """Add what is new; a fact that is known already is not repeated."""
    newest: dict[tuple[int, str], str] = {}
    every: set[tuple[int, str]] = set()
    for fact in models.HealthFact.objects.filter(participant__in=participants.values()).order_by(
        "recorded_at", "id"
    ):
        newest[fact.participant_id, fact.kind] = fact.text
        every.add((fact.participant_id, fact.text))
    added = []
    for person in group.people:
        row = participants[person.id]
        for kind, value in _standing_facts(person):
            known = newest.get((row.pk, kind))
            if known != mapping.fact_text(value) and (known is not None or value != ()):
                added.append(recorder.add(row, kind=kind, value=value))
    events = [(models.FactKind.SCREEN, screen) for screen in group.screens] + [
        (models.FactKind.DECISION, decision) for decision in group.decisions
    ]
    for kind, event in events:
        row = participants[event.person]
        if (row.pk, mapping.fact_text(event)) not in every:
            added.append(recorder.add(row, kind=kind, value=event))
    models.HealthFact.objects.bulk_create(added)


def _standing_facts(
    person: Person,
) -> tuple[tuple[models.FactKind, mapping.About | tuple[Limit, ...]], ...]:
    return (
        (models.FactKind.ABOUT, mapping.about(person)),
        (models.FactKind.LIMITS, person.limits),
    )


def _keep_bands(group: CoreGroup, *, row: models.Group) -> None:
    """Keep the bag; readings and checks that were recorded here outlive a list without them."""
    labels = [band.label for band in group.bands]
    row.bands.exclude(label__in=labels).delete()
    known = {band.label: queries.as_band(band) for band in row.bands.prefetch_related("points")}
    for place, band in enumerate(group.bands, start=1):
        before = known.get(band.label)
        told = band if before is None else bands.brought_up_to_date(before, told=band)
        kept_band, _ = models.Band.objects.update_or_create(
            group=row,
            label=band.label,
            defaults={
                "organisation_id": row.organisation_id,
                "place": place,
                **mapping.band_columns(told),
            },
        )
        bands.keep_points(kept_band, points=told.points)
