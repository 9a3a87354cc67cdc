"""The block of a group: plan it, see it at a glance, choose it, and judge its breaches."""

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.utils.timezone import now
from django.views.decorators.http import require_POST, require_safe

from halewright.files import movements
from halewright.store import queries
from halewright.usecases import blocks
from halewright.web import access, background, block_context, context


@require_safe
def block(request: HttpRequest, group_id: int) -> HttpResponse:
    """Show the current block at a glance; before any is in use, the newest."""
    visit = access.visit(request, may=access.May.LEAD, group=group_id)
    plan = queries.current_plan(visit.its_group) or next(
        iter(queries.plans_of(visit.its_group)), None
    )
    if plan is None:
        return redirect("group", group_id=group_id)
    return redirect("plan", plan_id=plan.pk)


@require_safe
def plan(request: HttpRequest, plan_id: int) -> HttpResponse:
    """Show one kept plan at a glance."""
    visit = access.visit(request, may=access.May.LEAD, plan=plan_id)
    return render(request, "web/blocks/calendar.html", _plan_page(visit))


@require_POST
def plan_block(request: HttpRequest, group_id: int) -> HttpResponse:
    """Begin to make a plan; a second request joins the one that is under way."""
    visit = access.visit(request, may=access.May.LEAD, group=group_id)
    try:
        run = blocks.start(visit.its_group, by=visit.member, at=now())
    except blocks.PlanningIsRunning:
        under_way = queries.newest_run(visit.its_group)
        if under_way is None:
            return redirect("group", group_id=group_id)
        return redirect("planning", run_id=under_way.pk)
    background.begin_planning(run.pk)
    return redirect("planning", run_id=run.pk)


@require_safe
def planning(request: HttpRequest, run_id: int) -> HttpResponse:
    """Show how far planning has come; lead on to the plan when it is ready."""
    visit = access.visit(request, may=access.May.LEAD, run=run_id)
    blocks.end_silent(visit.its_group, at=now())
    state = context.planning(visit.its_run)
    if state.plan_id is not None:
        return redirect("plan", plan_id=state.plan_id)
    page = {"visit": visit, "group": visit.its_group, "state": state, "run_id": run_id}
    return render(request, "web/blocks/planning.html", page)


@require_safe
def planning_state(request: HttpRequest, run_id: int) -> JsonResponse:
    """Tell the planning page how far planning has come."""
    visit = access.visit(request, may=access.May.LEAD, run=run_id)
    state = context.planning(visit.its_run)
    return JsonResponse({"words": state.words, "percent": state.percent, "running": state.running})


@require_POST
def use(request: HttpRequest, plan_id: int) -> HttpResponse:
    """Make a kept plan the current one."""
    visit = access.visit(request, may=access.May.LEAD, plan=plan_id)
    blocks.use(visit.its_plan, by=visit.member, at=now())
    messages.success(request, "This block is now the one in use.")
    return redirect("plan", plan_id=plan_id)


@require_safe
def breaches(request: HttpRequest, plan_id: int) -> HttpResponse:
    """Show every breach of a plan, with a form where a leader may accept it."""
    visit = access.visit(request, may=access.May.LEAD, plan=plan_id)
    return render(request, "web/blocks/breaches.html", _breach_page(visit))


@require_POST
def accept(request: HttpRequest, plan_id: int) -> HttpResponse:
    """Record a leader's last word on a breach."""
    visit = access.visit(request, may=access.May.LEAD, plan=plan_id)
    group = queries.whole(visit.its_group)
    found = blocks.breaches(visit.its_plan, group=group, planner=background.planner())
    sent = tuple(
        request.POST.get(name, "") for name in ("rule", "week", "session", "station", "person")
    )
    breach = next(
        (each for each, _ in found if tuple(block_context.place(each).values()) == sent), None
    )
    if breach is None:
        messages.info(request, "The plan has no such breach any more.")
        return redirect("breaches", plan_id=plan_id)
    who, why = request.POST.get("who", ""), request.POST.get("why", "")
    try:
        blocks.accept(breach, plan=visit.its_plan, who=who, why=why, by=visit.member, at=now())
    except blocks.BreachNotAccepted as refusal:
        page = _breach_page(visit) | {"words": str(refusal)}
        return render(request, "web/blocks/breaches.html", page, status=422)
    messages.success(request, "Your decision is recorded, with your name, the time and the reason.")
    return redirect("breaches", plan_id=plan_id)


def _plan_page(visit: access.Visit) -> dict[str, Any]:
    group = queries.whole(visit.its_group)
    row = visit.its_plan
    calendar = block_context.calendar(
        queries.read(row),
        group=group,
        catalogue=movements.shipped(),
        breaches=blocks.breaches(row, group=group, planner=background.planner()),
    )
    plans = queries.plans_of(visit.its_group)
    current = queries.current_plan(visit.its_group)
    return {
        "visit": visit,
        "group": visit.its_group,
        "plan": context.plan_line(row, current=current),
        "calendar": calendar,
        "plans": [context.plan_line(each, current=current) for each in plans],
    }


def _breach_page(visit: access.Visit) -> dict[str, Any]:
    group = queries.whole(visit.its_group)
    found = blocks.breaches(visit.its_plan, group=group, planner=background.planner())
    lines = block_context.breach_lines(found, group=group)
    return {"visit": visit, "group": visit.its_group, "plan": visit.its_plan, "breaches": lines}
