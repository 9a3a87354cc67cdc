"""Every read that a page needs, named by the page's question."""

from collections.abc import Iterable
from zoneinfo import ZoneInfo

from django.contrib.auth.models import AbstractBaseUser, AnonymousUser
from django.db.models import Count, Q

from halewright.core.people.group import Group as CoreGroup
from halewright.core.people.kit import Band as CoreBand
from halewright.core.planning.plan import Plan
from halewright.store import mapping, models


def is_anybody_here() -> bool:
    """Return whether a leader has been made: before that, the first page makes one."""
    return models.Member.objects.filter(user__is_active=True).exists()


def who_is(user: AbstractBaseUser | AnonymousUser) -> models.Member | None:
    """Return the member that a signed-in user is, with the organisation; None for a stranger."""
    if not user.is_authenticated:
        return None
    return models.Member.objects.select_related("organisation").filter(user_id=user.pk).first()


def groups_of(organisation: models.Organisation) -> tuple[tuple[models.Group, int], ...]:
    """Return the groups of an organisation by name, each with the number of its people."""
    counted = Count("participants", filter=Q(participants__left_on__isnull=True))
    rows = models.Group.objects.filter(organisation=organisation).annotate(people=counted)
    return tuple((row, row.people) for row in rows.order_by("name", "id"))


def group_in(organisation: models.Organisation, *, group_id: int) -> models.Group | None:
    """Return the group, if it is this organisation's."""
    return (
        models.Group.objects.select_related("kept_by")
        .filter(organisation=organisation, pk=group_id)
        .first()
    )


def time_zone(group: models.Group) -> ZoneInfo:
    """Return where the group's clock stands."""
    return ZoneInfo(group.document["schedule"]["time_zone"])


def plan_in(organisation: models.Organisation, *, plan_id: int) -> models.PlanDocument | None:
    """Return the plan with its group, if it is this organisation's."""
    return (
        models.PlanDocument.objects.select_related("group", "made_by", "accepted_by")
        .filter(organisation=organisation, pk=plan_id)
        .first()
    )


def participant_in(group: models.Group, *, key: str) -> models.Participant | None:
    """Return the participant of this group with this identifier."""
    return models.Participant.objects.filter(group=group, key=key).first()


def band_in(group: models.Group, *, band_id: int) -> models.Band | None:
    """Return the kind of band, if it is this group's."""
    return models.Band.objects.filter(group=group, pk=band_id).first()


def bands_of(group: models.Group) -> tuple[tuple[int, CoreBand], ...]:
    """Return every kind of band in a group's bag with its number, in the leader's order."""
    rows = group.bands.prefetch_related("points").order_by("place", "id")
    return tuple((row.pk, as_band(row)) for row in rows)


def as_band(row: models.Band) -> CoreBand:
    """Return a kind of band as a value, with its readings in the order in which they were kept."""
    points = tuple(sorted(row.points.all(), key=lambda point: point.pk))
    return mapping.band(row, points=points)


def whole(group: models.Group) -> CoreGroup:
    """Return everything that is known of a group, in five queries whatever its size."""
    rows = tuple(group.participants.filter(left_on__isnull=True).order_by("place", "id"))
    facts = _facts_by_participant(row.pk for row in rows)
    bands = group.bands.prefetch_related("points").order_by("place", "id")
    kept = [fact for row in rows for fact in facts.get(row.pk, ())]
    return mapping.group(
        group,
        people=tuple(mapping.person(row, facts=tuple(facts.get(row.pk, ()))) for row in rows),
        screens=tuple(mapping.screen(fact) for fact in kept if fact.kind == models.FactKind.SCREEN),
        decisions=tuple(
            sorted(
                (mapping.decision(fact) for fact in kept if fact.kind == models.FactKind.DECISION),
                key=lambda decision: decision.on,
            )
        ),
        bands=tuple(as_band(row) for row in bands),
    )


def facts_of(participant: models.Participant) -> tuple[models.HealthFact, ...]:
    """Return everything that was ever recorded about a person's health, the newest first."""
    return tuple(
        models.HealthFact.objects.select_related("recorded_by")
        .filter(participant=participant)
        .order_by("-recorded_at", "-id")
    )


def plans_of(group: models.Group) -> tuple[models.PlanDocument, ...]:
    """Return the plans of a group without their documents, the newest first."""
    return tuple(
        models.PlanDocument.objects.select_related("made_by", "accepted_by")
        .defer("document")
        .filter(group=group)
        .order_by("-made_at", "-id")
    )


def current_plan(group: models.Group) -> models.PlanDocument | None:
    """Return the newest accepted plan of a group; None before any has been accepted."""
    return (
        models.PlanDocument.objects.select_related("made_by", "accepted_by")
        .filter(group=group, accepted_at__isnull=False)
        .order_by("-accepted_at", "-id")
        .first()
    )


def read(plan: models.PlanDocument) -> Plan:
    """Return a plan as a value, with the breaches that were accepted."""
    return mapping.plan(plan, accepted=tuple(plan.accepted.order_by("at", "id")))


def accepted_of(plan: models.PlanDocument) -> tuple[models.AcceptedBreach, ...]:
    """Return the breaches of a plan that were accepted, in the order of acceptance."""
    return tuple(plan.accepted.order_by("at", "id"))


def newest_run(group: models.Group) -> models.PlanningRun | None:
    """Return the newest run of the planner for a group."""
    return models.PlanningRun.objects.filter(group=group).order_by("-started_at", "-id").first()


def run_in(organisation: models.Organisation, *, run_id: int) -> models.PlanningRun | None:
    """Return a run of the planner with its group, if it is this organisation's."""
    return (
        models.PlanningRun.objects.select_related("group")
        .filter(organisation=organisation, pk=run_id)
        .first()
    )


def log_of(plan: models.PlanDocument, *, week: int, session: int) -> models.SessionLog | None:
    """Return what the hall screen confirmed of a session."""
    return models.SessionLog.objects.filter(plan=plan, week=week, session=session).first()


def _facts_by_participant(keys: Iterable[int]) -> dict[int, list[models.HealthFact]]:
    found: dict[int, list[models.HealthFact]] = {}
    for fact in models.HealthFact.objects.filter(participant__in=tuple(keys)).order_by(
        "recorded_at", "id"
    ):
        found.setdefault(fact.participant_id, []).append(fact)
    return found
