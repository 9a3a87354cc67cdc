"""Blocks of kept groups: plan one, choose one, and have the last word on a breach."""

from collections.abc import Callable
from datetime import datetime, timedelta
from typing import Protocol

from django.db import IntegrityError, transaction

from halewright.core.errors import HalewrightError
from halewright.core.people.group import Group
from halewright.core.planning.plan import Acceptance, Plan, Violation
from halewright.store import mapping, models, queries

Progress = Callable[[str, float], None]
"""Told in words how far planning has come, and as a share of the whole (0 to 1)."""

SILENCE = timedelta(minutes=3)
"""A run that has not been heard of for so long ended with the program that ran it."""


PAUSE = timedelta(milliseconds=500)
"""The least time between two words of progress that are kept."""


class Planner(Protocol):
    """What drafts a plan and checks one; `usecases.drafting`, or a fake in tests."""

    def draft(self, group: Group, *, seed: int, progress: Progress) -> Plan:
        """Return a plan for the group."""
        ...

    def check(self, plan: Plan, group: Group) -> tuple[Violation, ...]:
        """Return every breach of the plan."""
        ...


class PlanningIsRunning(HalewrightError):
    """A plan for this group is being made already."""

    def __init__(self) -> None:
        """Say what to do."""
        super().__init__("A plan for this group is being made already. Wait until it is ready.")


class BreachNotAccepted(HalewrightError):
    """A breach that nobody may accept, or an acceptance without who and why."""


def start(group: models.Group, *, by: models.Member, at: datetime) -> models.PlanningRun:
    """Note that a plan is to be made; raises PlanningIsRunning when one is under way.

    The seed is the number of plans made so far plus one, so that planning again looks elsewhere
    and the same history gives the same plans.
    """
    end_silent(group, at=at)
    seed = models.PlanDocument.objects.filter(group=group).count() + 1
    try:
        with transaction.atomic():
            return models.PlanningRun.objects.create(
                organisation_id=group.organisation_id,
                group=group,
                seed=seed,
                started_at=at,
                beat_at=at,
                by=by,
                said="Reading the group",
            )
    except IntegrityError as error:
        raise PlanningIsRunning from error


def end_silent(group: models.Group, *, at: datetime) -> None:
    """Mark runs that have fallen silent as stopped, so that planning can begin anew."""
    models.PlanningRun.objects.filter(
        group=group, state=models.RunState.RUNNING, beat_at__lt=at - SILENCE
    ).update(
        state=models.RunState.STOPPED,
        said="Planning ended before the plan was ready. Nothing was lost; plan again.",
    )


def carry_out(run_id: int, *, planner: Planner, clock: Callable[[], datetime]) -> None:
    """Make the plan of a run, telling how far it is, and keep it; a failure is told in words."""
    run = models.PlanningRun.objects.select_related("group", "by").get(pk=run_id)

    told: list[datetime] = []

    def beat(words: str, done_share: float) -> None:
        # A solver may better its plan many times a second; the page looks once a second.
        at = clock()
        if told and at - told[-1] < PAUSE:
            return
        told[:] = [at]
        models.PlanningRun.objects.filter(pk=run_id, state=models.RunState.RUNNING).update(
            said=words[:300], done_share=min(max(done_share, 0.0), 1.0), beat_at=at
        )

    try:
        plan = planner.draft(queries.whole(run.group), seed=run.seed, progress=beat)
    except HalewrightError as error:
        _stop(run_id, words=str(error))
        return
    except Exception:
        _stop(run_id, words="Planning met a fault in Halewright itself. Nothing was changed.")
        raise
    with transaction.atomic():
        row = keep(plan, group=run.group, by=run.by, at=clock())
        models.PlanningRun.objects.filter(pk=run_id, state=models.RunState.RUNNING).update(
            state=models.RunState.DONE, said="The plan is ready.", done_share=1.0, plan=row
        )


def keep(
    plan: Plan, *, group: models.Group, by: models.Member, at: datetime
) -> models.PlanDocument:
    """Keep a plan beside the earlier ones; the first of a group is in use at once."""
    first = not models.PlanDocument.objects.filter(group=group).exists()
    return models.PlanDocument.objects.create(
        organisation_id=group.organisation_id,
        group=group,
        schema=mapping.PLAN_SCHEMA,
        version=mapping.PLAN_VERSION,
        document=mapping.document(plan),
        seed=plan.seed,
        objective=plan.objective,
        made_at=at,
        made_by=by,
        accepted_at=at if first else None,
        accepted_by=by if first else None,
    )


def use(plan: models.PlanDocument, *, by: models.Member, at: datetime) -> None:
    """Make a kept plan the current one; using it again changes nothing but the time."""
    models.PlanDocument.objects.filter(pk=plan.pk).update(accepted_at=at, accepted_by=by)


def breaches(
    plan: models.PlanDocument, *, group: Group, planner: Planner
) -> tuple[tuple[Violation, Acceptance | None], ...]:
    """Return every breach of a plan for the group as it is now, each with its acceptance."""
    value = queries.read(plan)
    words = {_place(acceptance): acceptance for acceptance in value.accepted}
    return tuple(
        (breach, None if breach.incurable else words.get(_place(breach)))
        for breach in planner.check(value, group)
    )


def accept(
    breach: Violation,
    *,
    plan: models.PlanDocument,
    who: str,
    why: str,
    by: models.Member,
    at: datetime,
) -> models.AcceptedBreach:
    """Record a leader's last word on a breach; a second time returns the first word.

    Raises BreachNotAccepted for the four kinds that only a recorded change can cure, and where
    the name or the reason is missing.
    """
    if breach.incurable:
        message = (
            "This breach cannot be accepted. It is mended by a recorded change to the person "
            "or the kit, and by planning again."
        )
        raise BreachNotAccepted(message)
    if not who.strip() or not why.strip():
        message = "Give the name of who decides, and the reason in a sentence."
        raise BreachNotAccepted(message)
    row, _ = models.AcceptedBreach.objects.get_or_create(
        plan=plan,
        rule=breach.rule,
        week=breach.week or 0,
        session=breach.session or 0,
        station=breach.station or 0,
        person=breach.person or "",
        defaults={
            "organisation_id": plan.organisation_id,
            "who": who.strip(),
            "why": why.strip(),
            "by": by,
            "at": at,
        },
    )
    return row


def _place(word: Violation | Acceptance) -> tuple[object, ...]:
    return (word.rule, word.week, word.session, word.station, word.person)


def _stop(run_id: int, *, words: str) -> None:
    models.PlanningRun.objects.filter(pk=run_id, state=models.RunState.RUNNING).update(
        state=models.RunState.STOPPED, said=words[:300]
    )
