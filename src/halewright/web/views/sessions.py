"""One session: its plan, its papers, its emergency cards, and the way to the hall screen."""

from typing import Any

from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from halewright.core.errors import NoSuchSession
from halewright.files import movements
from halewright.store import queries
from halewright.usecases import hall, sessions
from halewright.web import access, block_context, paper_context, stop_signs


@require_safe
def session(request: HttpRequest, plan_id: int, week: int, number: int) -> HttpResponse:
    """Show one session as it is planned, with the way to its papers and the hall screen."""
    page = _page(request, plan_id=plan_id, week=week, number=number)
    return render(request, "web/sessions/session.html", page)


@require_safe
def run_sheet(request: HttpRequest, plan_id: int, week: int, number: int) -> HttpResponse:
    """Show the leader's copy of the run sheet, with names."""
    page = _page(request, plan_id=plan_id, week=week, number=number)
    sheet = sessions.run_sheet(page["value"], page["whole"], week=week, session=number)
    page |= {"sheet": paper_context.sheet(sheet), "wall": False}
    return render(request, "web/sessions/run_sheet.html", page)


@require_safe
def wall_copy(request: HttpRequest, plan_id: int, week: int, number: int) -> HttpResponse:
    """Show the copy for the wall, which tells of nobody."""
    page = _page(request, plan_id=plan_id, week=week, number=number)
    sheet = sessions.wall_copy(page["value"], page["whole"], week=week, session=number)
    page |= {"sheet": paper_context.sheet(sheet), "wall": True}
    return render(request, "web/sessions/run_sheet.html", page)


@require_safe
def emergency(request: HttpRequest, plan_id: int, week: int, number: int) -> HttpResponse:
    """Show the stop signs, what to do, whom to ring and what a crew must know."""
    page = _page(request, plan_id=plan_id, week=week, number=number)
    page |= {
        "cards": paper_context.cards(page["whole"], expected=page["outline"].expected),
        "stop_now": stop_signs.STOP_NOW,
        "sit_and_ask": stop_signs.SIT_AND_ASK,
        "drill": stop_signs.DRILL,
    }
    return render(request, "web/sessions/emergency.html", page)


@require_POST
def show_in_hall(request: HttpRequest, plan_id: int, week: int, number: int) -> HttpResponse:
    """Put the session on the hall screen, and go there."""
    page = _page(request, plan_id=plan_id, week=week, number=number)
    document = sessions.hall_document(
        page["value"], week=week, session=number, cache=settings.HOME / "figures"
    )
    hall.show(document=document, home=settings.HOME)
    return redirect("hall")


def _page(request: HttpRequest, *, plan_id: int, week: int, number: int) -> dict[str, Any]:
    visit = access.visit(request, may=access.May.RUN, plan=plan_id)
    plan = queries.read(visit.its_plan)
    try:
        outline = sessions.outline(plan, week=week, session=number)
    except NoSuchSession as error:
        raise Http404 from error
    whole = queries.whole(visit.its_group)
    return {
        "visit": visit,
        "group": visit.its_group,
        "plan": visit.its_plan,
        "value": plan,
        "outline": outline,
        "whole": whole,
        "session": block_context.session_page(outline, group=whole, catalogue=movements.shipped()),
    }
