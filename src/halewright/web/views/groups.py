"""The list of groups, the page of one group, and bringing groups and people in."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

from django.conf import settings
from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.timezone import localdate, now
from django.views.decorators.http import require_POST, require_safe

from halewright.core.errors import BadInput
from halewright.core.people.group import Group
from halewright.store import queries
from halewright.usecases import arrivals, demo, groups_kept
from halewright.usecases import groups as groups_on_disk
from halewright.web import access, context


@require_safe
def groups(request: HttpRequest) -> HttpResponse:
    """Show which groups there are."""
    visit = access.visit(request, may=access.May.RUN)
    return render(request, "web/groups/list.html", _list_page(visit))


@require_safe
def group(request: HttpRequest, group_id: int) -> HttpResponse:
    """Show what comes next for this group, and what there is to work with."""
    visit = access.visit(request, may=access.May.RUN, group=group_id)
    return render(request, "web/groups/group.html", _group_page(visit))


@require_POST
def load_demo(request: HttpRequest) -> HttpResponse:
    """Keep a demo group that ships."""
    visit = access.visit(request, may=access.May.LEAD)
    chosen = request.POST.get("demo", "")
    if chosen not in demo.names():
        raise Http404
    folder = next(
        each.folder
        for each in demo.listing(Path(settings.HOME) / "demo")
        if each.folder.name == chosen
    )
    return _keep(request, visit=visit, group_of=lambda: groups_on_disk.load(folder))


@require_POST
def bring_in(request: HttpRequest) -> HttpResponse:
    """Keep a group that is sent as a zip or as its files; show every problem in a table."""
    visit = access.visit(request, may=access.May.LEAD)
    sent = [
        arrivals.Sent(name=file.name or "", content=file.read())
        for file in request.FILES.getlist("files")
    ]
    return _keep(request, visit=visit, group_of=lambda: arrivals.group_from(sent))


@require_POST
def bring_in_people(request: HttpRequest, group_id: int) -> HttpResponse:
    """Bring the people of a spreadsheet into a group; show every problem in a table."""
    visit = access.visit(request, may=access.May.LEAD, group=group_id)
    file = request.FILES.get("file")
    sent = arrivals.Sent(
        name=file.name if file and file.name else "people.csv",
        content=file.read() if file else b"",
    )
    try:
        arrival = arrivals.people_into(queries.whole(visit.its_group), sent=sent)
    except BadInput as bad:
        page = _group_page(visit) | {"problems": bad.problems}
        return render(request, "web/groups/group.html", page, status=422)
    groups_kept.keep(
        arrival.group, organisation=visit.member.organisation, by=visit.member, at=now()
    )
    messages.success(
        request, f"{context.counted(arrival.people_count, 'person', 'people')} brought in."
    )
    if arrival.ignored_columns:
        messages.info(request, f"Columns not read: {', '.join(arrival.ignored_columns)}.")
    return redirect("group", group_id=group_id)


def _keep(
    request: HttpRequest, *, visit: access.Visit, group_of: Callable[[], Group]
) -> HttpResponse:
    try:
        found = group_of()
    except BadInput as bad:
        page = _list_page(visit) | {"problems": bad.problems}
        return render(request, "web/groups/list.html", page, status=422)
    row = groups_kept.keep(found, organisation=visit.member.organisation, by=visit.member, at=now())
    messages.success(request, f"{row.name} is here.")
    return redirect("group", group_id=row.pk)


def _list_page(visit: access.Visit) -> dict[str, Any]:
    lines = [
        context.GroupLine(
            id=row.pk, name=row.name, people=context.counted(count, "person", "people")
        )
        for row, count in queries.groups_of(visit.member.organisation)
    ]
    demos = [(name, name.replace("-", " ").title()) for name in demo.names()]
    return {"visit": visit, "groups": lines, "demos": demos}


def _group_page(visit: access.Visit) -> dict[str, Any]:
    row = visit.its_group
    plan = queries.current_plan(row)
    coming = None
    if plan is not None:
        today = localdate(timezone=queries.time_zone(row))
        coming = context.next_session(queries.read(plan).sessions, today=today)
    page = {"visit": visit, "group": row, "plan": plan, "next": coming}
    if visit.leads:
        page["about"] = context.group_page(queries.whole(row))
    return page
