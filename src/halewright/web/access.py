"""The one guard of every page: who asks, may they, and the rows that are theirs to see."""

from dataclasses import dataclass
from enum import Enum
from typing import TypeVar

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest

from halewright.store import queries
from halewright.store.models import Group, Member, Participant, PlanDocument, PlanningRun, Role

T = TypeVar("T")


class May(Enum):
    """What a page lets its visitor do."""

    RUN = "run"
    """Open a session, its run sheet and the emergency cards: leaders and assistants."""
    LEAD = "lead"
    """Everything else: leaders only."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Visit:
    """A member who may see the page, and what it is about; None where it is about less."""

    member: Member
    group: Group | None = None
    plan: PlanDocument | None = None
    participant: Participant | None = None
    run: PlanningRun | None = None

    @property
    def name(self) -> str:
        """The member's name, for the top of the page."""
        return self.member.name

    @property
    def leads(self) -> bool:
        """Whether the member is a leader."""
        return self.member.role == Role.LEADER

    @property
    def its_group(self) -> Group:
        """The group that the page is about."""
        if self.group is None:
            raise Http404
        return self.group

    @property
    def its_plan(self) -> PlanDocument:
        """The plan that the page is about."""
        if self.plan is None:
            raise Http404
        return self.plan

    @property
    def its_participant(self) -> Participant:
        """The person that the page is about."""
        if self.participant is None:
            raise Http404
        return self.participant

    @property
    def its_run(self) -> PlanningRun:
        """The run of the planner that the page is about."""
        if self.run is None:
            raise Http404
        return self.run


def visit(
    request: HttpRequest,
    *,
    may: May,
    group: int | None = None,
    plan: int | None = None,
    person: str | None = None,
    run: int | None = None,
) -> Visit:
    """Fetch what the page is about and authorise the visitor, in one go.

    Raises Http404 for what is not there or belongs to another organisation, PermissionDenied
    for what only a leader may do.
    """
    member = queries.who_is(request.user)
    if member is None:
        raise PermissionDenied
    if may is May.LEAD and member.role != Role.LEADER:
        raise PermissionDenied
    home = member.organisation
    its_run = None if run is None else _found(queries.run_in(home, run_id=run))
    its_plan = None if plan is None else _found(queries.plan_in(home, plan_id=plan))
    if its_plan is not None:
        its_group: Group | None = its_plan.group
    elif its_run is not None:
        its_group = its_run.group
    else:
        its_group = None if group is None else _found(queries.group_in(home, group_id=group))
    participant = None
    if person is not None and its_group is not None:
        participant = _found(queries.participant_in(its_group, key=person))
    return Visit(
        member=member, group=its_group, plan=its_plan, participant=participant, run=its_run
    )


def _found(row: T | None) -> T:
    if row is None:
        raise Http404
    return row
