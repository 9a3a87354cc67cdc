"""The people of a group, one person, and decisions on ask-first flags."""

from datetime import date
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.timezone import localdate, now
from django.views.decorators.http import require_POST, require_safe

from halewright.core.people.group import Decision
from halewright.core.people.person import PersonId
from halewright.store import queries
from halewright.usecases import cautions, groups_kept
from halewright.web import access, context, forms


@require_safe
def people(request: HttpRequest, group_id: int) -> HttpResponse:
    """Who is in the group, and about whom must I think twice?"""
    visit = access.visit(request, may=access.May.LEAD, group=group_id)
    its_group = queries.whole(visit.its_group)
    outcomes = cautions.outcomes(its_group, on=localdate())
    lines = [context.person_line(each, outcome=outcomes[each.id]) for each in its_group.people]
    page = {"visit": visit, "group": visit.its_group, "people": lines}
    return render(request, "web/people/list.html", page)


@require_safe
def person(request: HttpRequest, group_id: int, key: str) -> HttpResponse:
    """What must this person avoid, why, and who says so?"""
    visit = access.visit(request, may=access.May.LEAD, group=group_id, person=key)
    return render(request, "web/people/person.html", _person_page(visit, key=key))


@require_POST
def decide(request: HttpRequest, group_id: int, key: str) -> HttpResponse:
    """Record a named person's answer to an ask-first flag."""
    visit = access.visit(request, may=access.May.LEAD, group=group_id, person=key)
    page = _person_page(visit, key=key)
    flags = {flag.flag for flag in page["person"].flags}
    form = forms.decision(request.POST, flags=flags, today=localdate())
    if form.wrong:
        page["form"] = form
        return render(request, "web/people/person.html", page, status=422)
    decision = Decision(
        person=PersonId(key),
        flag=form.flag,
        go_ahead=form.go_ahead,
        by=form.by,
        on=form.on or date.min,
        note=form.note,
    )
    groups_kept.decide(decision, group=visit.its_group, by=visit.member, at=now())
    messages.success(request, "The decision is recorded. Plan again if it changes what is safe.")
    return redirect("person", group_id=group_id, key=key)


def _person_page(visit: access.Visit, *, key: str) -> dict[str, Any]:
    its_group = queries.whole(visit.its_group)
    outcomes = cautions.outcomes(its_group, on=localdate())
    found = next((each for each in its_group.people if each.id == key), None)
    if found is None:
        raise Http404
    facts = queries.facts_of(visit.its_participant)
    return {
        "visit": visit,
        "group": visit.its_group,
        "person": context.person_page(found, outcome=outcomes[found.id]),
        "history": [context.fact_line(fact) for fact in facts],
        "today": localdate().isoformat(),
        "form": None,
    }
