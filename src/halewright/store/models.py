"""The tables: thin rows, constraints in the database, no rules.

Every row belongs to an organisation. Facts about health are dated additions: a fact is never
changed and never removed, here and by triggers in the database (migration 0002).
"""

from typing import Any

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from halewright.core.errors import HalewrightError
from halewright.core.people.kit import Material, Phase, Shape
from halewright.core.people.person import Sex
from halewright.store.fields import HealthText


class FactsAreAdded(HalewrightError):
    """Somebody tried to change or remove what was once recorded about health."""

    def __init__(self) -> None:
        """Say what can be done instead."""
        super().__init__(
            "What was recorded about somebody's health is never changed or removed. "
            "Record a new fact instead; the newest one counts."
        )


class Organisation(models.Model):
    """Whose rows these are; every other row belongs to one."""

    name = models.CharField(max_length=200, unique=True)

    def __str__(self) -> str:
        """Return the name."""
        return self.name


class Owned(models.Model):
    """What every other row has: the organisation it belongs to."""

    organisation = models.ForeignKey(Organisation, on_delete=models.PROTECT)

    class Meta:
        abstract = True


class Role(models.TextChoices):
    """What a member may do: lead, or help on the day."""

    LEADER = "leader", "Leader"
    ASSISTANT = "assistant", "Assistant"


class Member(Owned):
    """Somebody who signs in, in one organisation, under the name that the others know."""

    user = models.OneToOneField(settings.AUTH_USER_MODEL, on_delete=models.PROTECT)
    name = models.CharField(max_length=150)
    role = models.CharField(max_length=20, choices=Role)

    class Meta:
        constraints = (
            models.CheckConstraint(condition=Q(role__in=Role.values), name="member_role_known"),
            models.CheckConstraint(condition=~Q(name=""), name="member_has_a_name"),
        )


class Group(Owned):
    """A group: place, calendar, wishes and local rules as a document, looked-up columns beside it.

    People, kit and health have tables of their own.
    """

    key = models.SlugField(max_length=80)
    name = models.CharField(max_length=200)
    schema = models.CharField(max_length=40)
    version = models.PositiveSmallIntegerField()
    document = models.JSONField()
    starts_on = models.DateField()
    weeks = models.PositiveSmallIntegerField()
    kept_at = models.DateTimeField()
    kept_by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints = (
            models.UniqueConstraint(fields=("organisation", "key"), name="group_key_once"),
            models.CheckConstraint(condition=Q(weeks__gte=1), name="group_has_weeks"),
            models.CheckConstraint(condition=Q(version__gte=1), name="group_version_from_1"),
        )


class Participant(Owned):
    """A person in a group: a stable identifier, a name, the calendar and whom to ring.

    Nothing about health is here: see HealthFact. `left_on` is set when a newer list of the group
    no longer names the person; the row and its facts stay.
    """

    group = models.ForeignKey(Group, on_delete=models.PROTECT, related_name="participants")
    key = models.CharField(max_length=80)
    place = models.PositiveSmallIntegerField()
    """The order in the leader's own list, from 1."""
    preferred_name = models.CharField(max_length=120)
    sex = models.CharField(max_length=12, choices=[(s.value, s.value) for s in Sex])
    birth_year = models.PositiveSmallIntegerField(null=True)
    born_on = models.DateField(null=True)
    joined_on = models.DateField(null=True)
    left_on = models.DateField(null=True)
    days = models.JSONField(default=list)
    away = models.JSONField(default=list)
    contacts = models.JSONField(default=list)

    class Meta:
        constraints = (
            models.UniqueConstraint(fields=("group", "key"), name="participant_key_once"),
            models.CheckConstraint(
                condition=~Q(key="") & ~Q(preferred_name=""), name="participant_is_named"
            ),
            models.CheckConstraint(
                condition=Q(sex__in=[s.value for s in Sex]), name="participant_sex_known"
            ),
        )


class FactKind(models.TextChoices):
    """What a health fact is about; its text is the JSON of a core value."""

    ABOUT = "about", "What we know"
    LIMITS = "limits", "Limits told"
    SCREEN = "screen", "Health screen"
    DECISION = "decision", "Decision on an ask-first flag"


class HealthFacts(models.QuerySet["HealthFact"]):
    """Facts can be read and added, nothing else."""

    def update(self, **_: Any) -> int:
        """Refuse."""
        raise FactsAreAdded

    def delete(self) -> tuple[int, dict[str, int]]:
        """Refuse."""
        raise FactsAreAdded


class HealthFact(Owned):
    """One dated addition to what is known of a person's health; the newest of its kind counts."""

    participant = models.ForeignKey(Participant, on_delete=models.PROTECT, related_name="facts")
    kind = models.CharField(max_length=12, choices=FactKind)
    schema = models.CharField(max_length=40)
    version = models.PositiveSmallIntegerField()
    text = HealthText()
    recorded_by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+")
    recorded_at = models.DateTimeField()

    objects = HealthFacts.as_manager()

    class Meta:
        ordering = ("recorded_at", "id")
        constraints = (
            models.CheckConstraint(condition=Q(kind__in=FactKind.values), name="fact_kind_known"),
            models.CheckConstraint(condition=Q(version__gte=1), name="fact_version_from_1"),
        )
        indexes = (models.Index(fields=("participant", "kind", "recorded_at"), name="fact_newest"),)

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Add the fact; a fact that exists cannot be saved again."""
        if self.pk is not None:
            raise FactsAreAdded
        super().save(*args, **kwargs)

    def delete(self, *_: Any, **__: Any) -> tuple[int, dict[str, int]]:
        """Refuse."""
        raise FactsAreAdded


class Band(Owned):
    """A kind of band in a group's bag, known by the leader's own label."""

    group = models.ForeignKey(Group, on_delete=models.PROTECT, related_name="bands")
    label = models.CharField(max_length=60)
    place = models.PositiveSmallIntegerField()
    """The order in the leader's own list, from 1."""
    material = models.CharField(max_length=12, choices=[(m.value, m.value) for m in Material])
    shape = models.CharField(max_length=8, choices=[(s.value, s.value) for s in Shape])
    length_m = models.FloatField(null=True)
    width_m = models.FloatField(null=True)
    count = models.PositiveSmallIntegerField(default=1)
    rank = models.PositiveSmallIntegerField(null=True)
    bought_on = models.DateField(null=True)
    checked_on = models.DateField(null=True)
    retired_on = models.DateField(null=True)
    first_used_on = models.DateField(null=True)
    batch = models.CharField(max_length=60, default="", blank=True)
    checks = models.JSONField(default=list, blank=True)
    """Inspections, oldest first: they are added, never changed."""

    class Meta:
        constraints = (
            models.UniqueConstraint(fields=("group", "label"), name="band_label_once"),
            models.CheckConstraint(
                condition=Q(material__in=[m.value for m in Material])
                & Q(shape__in=[s.value for s in Shape]),
                name="band_words_known",
            ),
            models.CheckConstraint(
                condition=(Q(length_m__isnull=True) | Q(length_m__gt=0))
                & (Q(width_m__isnull=True) | Q(width_m__gt=0)),
                name="band_size_above_nothing",
            ),
        )


class BandPoint(Owned):
    """One reading of a scale at one length of a band."""

    band = models.ForeignKey(Band, on_delete=models.CASCADE, related_name="points")
    slack_length_m = models.FloatField()
    stretched_length_m = models.FloatField()
    reading_n = models.FloatField()
    phase = models.CharField(
        max_length=10, choices=[(p.value, p.value) for p in Phase], default=Phase.LOADING.value
    )

    class Meta:
        constraints = (
            models.CheckConstraint(
                condition=Q(phase__in=[p.value for p in Phase]), name="band_point_phase_known"
            ),
            models.CheckConstraint(
                condition=Q(slack_length_m__gt=0)
                & Q(stretched_length_m__gte=F("slack_length_m"))
                & Q(reading_n__gte=0),
                name="band_point_is_a_pull",
            ),
        )


class PlanDocument(Owned):
    """A planned block as a document. Several are kept; the newest accepted one is current."""

    group = models.ForeignKey(Group, on_delete=models.PROTECT, related_name="plans")
    schema = models.CharField(max_length=40)
    version = models.PositiveSmallIntegerField()
    document = models.JSONField()
    seed = models.PositiveBigIntegerField()
    objective = models.BigIntegerField()
    made_at = models.DateTimeField()
    made_by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+")
    accepted_at = models.DateTimeField(null=True)
    accepted_by = models.ForeignKey(Member, null=True, on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints = (
            models.CheckConstraint(condition=Q(version__gte=1), name="plan_version_from_1"),
            models.CheckConstraint(
                condition=Q(accepted_at__isnull=True, accepted_by__isnull=True)
                | Q(accepted_at__isnull=False, accepted_by__isnull=False),
                name="plan_accepted_by_somebody",
            ),
        )


class AcceptedBreach(Owned):
    """A leader's last word on a breach of a plan: which, who, when, why.

    Week, session and station are 0, and person is "", where the breach is wider than that.
    """

    plan = models.ForeignKey(PlanDocument, on_delete=models.PROTECT, related_name="accepted")
    rule = models.CharField(max_length=80)
    week = models.PositiveSmallIntegerField(default=0)
    session = models.PositiveSmallIntegerField(default=0)
    station = models.PositiveSmallIntegerField(default=0)
    person = models.CharField(max_length=80, default="", blank=True)
    who = models.CharField(max_length=150)
    why = models.TextField()
    by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=("plan", "rule", "week", "session", "station", "person"),
                name="breach_accepted_once",
            ),
            models.CheckConstraint(
                condition=~Q(who="") & ~Q(why=""), name="breach_has_who_and_why"
            ),
        )


class RunState(models.TextChoices):
    """How far a planning run has come."""

    RUNNING = "running", "Running"
    DONE = "done", "Done"
    STOPPED = "stopped", "Stopped"


class PlanningRun(Owned):
    """A run of the planner in the background, and what it says of its progress."""

    group = models.ForeignKey(Group, on_delete=models.PROTECT, related_name="runs")
    state = models.CharField(max_length=12, choices=RunState, default=RunState.RUNNING)
    seed = models.PositiveBigIntegerField()
    said = models.CharField(max_length=300, default="", blank=True)
    done_share = models.FloatField(default=0.0)
    started_at = models.DateTimeField()
    beat_at = models.DateTimeField()
    by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+")
    plan = models.ForeignKey(PlanDocument, null=True, on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=("group",), condition=Q(state="running"), name="one_run_at_a_time"
            ),
            models.CheckConstraint(condition=Q(state__in=RunState.values), name="run_state_known"),
            models.CheckConstraint(
                condition=Q(done_share__gte=0, done_share__lte=1), name="run_share_0_to_1"
            ),
        )


class SessionLog(Owned):
    """What the hall screen confirmed of one session: when it began, how far it is, notes."""

    plan = models.ForeignKey(PlanDocument, on_delete=models.PROTECT, related_name="logs")
    week = models.PositiveSmallIntegerField()
    session = models.PositiveSmallIntegerField()
    started_at = models.DateTimeField(null=True)
    saved_at = models.DateTimeField()
    note = models.JSONField(default=dict)
    """Where the hall screen stands, as a document of its own; it holds no name and no health."""

    class Meta:
        constraints = (
            models.UniqueConstraint(fields=("plan", "week", "session"), name="session_log_once"),
            models.CheckConstraint(
                condition=Q(week__gte=1, session__gte=1), name="session_log_from_1"
            ),
        )
