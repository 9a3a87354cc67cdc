"""One session: its plan, its papers and its emergency cards."""

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from halewright.files import movements
from halewright.store import queries
from halewright.web import access, block_context, paper_context


@require_safe
def session(request: HttpRequest, plan_id: int, week: int, number: int) -> HttpResponse:
    """Show one session as it is planned, with the way to its papers and the hall screen."""
    page = _page(request, plan_id=plan_id, week=week, number=number)
    return render(request, "web/sessions/session.html", page)


@require_safe
def emergency(request: HttpRequest, plan_id: int, week: int, number: int) -> HttpResponse:
    """Show whom to ring and what a crew must know, for everybody who is expected."""
    page = _page(request, plan_id=plan_id, week=week, number=number)
    page["cards"] = paper_context.cards(page["whole"], expected=page["outline"].expected)
    return render(request, "web/sessions/emergency.html", page)


def _page(request: HttpRequest, *, plan_id: int, week: int, number: int) -> dict[str, Any]:
    visit = access.visit(request, may=access.May.RUN, plan=plan_id)
    plan = queries.read(visit.its_plan)
    outline = block_context.find(plan, week=week, number=number)
    if outline is None:
        raise Http404
    whole = queries.whole(visit.its_group)
    return {
        "visit": visit,
        "group": visit.its_group,
        "plan": visit.its_plan,
        "outline": outline,
        "whole": whole,
        "session": block_context.session_page(outline, group=whole, catalogue=movements.shipped()),
    }
