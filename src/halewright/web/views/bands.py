"""The kit bag: which bands there are, measuring one, looking one over."""

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.timezone import localdate
from django.views.decorators.http import require_POST, require_safe

from halewright.core.people.group import Group
from halewright.core.people.kit import Band
from halewright.store import queries
from halewright.usecases import bands as kit_bag
from halewright.usecases import loads as group_loads
from halewright.web import access, band_cautions, band_forms, bands_context


@require_safe
def kit(request: HttpRequest, group_id: int) -> HttpResponse:
    """Which bands are there, which are measured, and which need a look?"""
    visit = access.visit(request, may=access.May.LEAD, group=group_id)
    whole = queries.whole(visit.its_group)
    numbered = zip((row for row, _ in queries.bands_of(visit.its_group)), whole.bands, strict=True)
    page = {
        "visit": visit,
        "group": visit.its_group,
        "bands": [
            bands_context.kit_line(number, band, group=whole, on=localdate())
            for number, band in numbered
        ],
        "measuring": True,
        "band_cautions": band_cautions.MEASURING,
    }
    return render(request, "web/bands/kit.html", page)


@require_safe
def band(request: HttpRequest, group_id: int, band_id: int) -> HttpResponse:
    """What does this band pull, how old is it, and what was found on it?"""
    page = _page(request, group_id=group_id, band_id=band_id)
    return render(request, "web/bands/band.html", page)


@require_safe
def measure(request: HttpRequest, group_id: int, band_id: int) -> HttpResponse:
    """Lead through measuring a band, step by step."""
    page = _page(request, group_id=group_id, band_id=band_id)
    page["form"] = band_forms.MeasureForm()
    return render(request, "web/bands/measure.html", page)


@require_POST
def keep_readings(request: HttpRequest, group_id: int, band_id: int) -> HttpResponse:
    """Check what was measured and keep it; doubts are shown once before it is kept."""
    page = _page(request, group_id=group_id, band_id=band_id)
    limit_ratio: float = page["limit_ratio"]
    form = band_forms.measuring(request.POST, limit_ratio=limit_ratio)
    wrong, doubts = list(form.wrong), []
    if not wrong:
        found = kit_bag.examine(form.points, band=page["value"], limit_ratio=limit_ratio)
        wrong = [flag.words for flag in found.refused]
        doubts = [flag.words for flag in found.doubts]
    if wrong or (doubts and not form.sure):
        page |= {"form": form, "wrong": wrong, "doubts": doubts}
        return render(request, "web/bands/measure.html", page, status=422)
    kit_bag.measure(form.points, group=page["group"], band_id=band_id, limit_ratio=limit_ratio)
    messages.success(request, f"{page['value'].label} is measured.")
    return redirect("band", group_id=group_id, band_id=band_id)


@require_POST
def check(request: HttpRequest, group_id: int, band_id: int) -> HttpResponse:
    """Record what a look at the band found; a torn one is taken out of use for good."""
    page = _page(request, group_id=group_id, band_id=band_id)
    form = band_forms.check(request.POST, by=page["visit"].name, today=localdate())
    if form.check is None:
        page["wrong"] = form.wrong
        return render(request, "web/bands/band.html", page, status=422)
    kit_bag.check(form.check, group=page["group"], band_id=band_id)
    messages.success(request, f"The check of {page['value'].label} is recorded.")
    return redirect("band", group_id=group_id, band_id=band_id)


@require_POST
def record(request: HttpRequest, group_id: int, band_id: int) -> HttpResponse:
    """Record when the band came into use and the batch on its packet."""
    page = _page(request, group_id=group_id, band_id=band_id)
    form = band_forms.record(request.POST, today=localdate())
    if form.wrong:
        page["wrong"] = form.wrong
        return render(request, "web/bands/band.html", page, status=422)
    kit_bag.record(
        first_used_on=form.first_used_on,
        batch=form.batch,
        group=page["group"],
        band_id=band_id,
    )
    messages.success(request, "The kit record is kept.")
    return redirect("band", group_id=group_id, band_id=band_id)


@require_safe
def how_to(request: HttpRequest, group_id: int) -> HttpResponse:
    """How is a band measured? A sheet to print."""
    visit = access.visit(request, may=access.May.LEAD, group=group_id)
    limit_ratio = group_loads.stretch_limit_ratio(queries.whole(visit.its_group))
    page = {
        "visit": visit,
        "group": visit.its_group,
        "measuring": True,
        "band_cautions": band_cautions.MEASURING,
        "limit": f"{limit_ratio:g}",
        "rows": range(1, band_forms.ROWS + 1),
    }
    return render(request, "web/bands/how_to.html", page)


def _page(request: HttpRequest, *, group_id: int, band_id: int) -> dict[str, Any]:
    visit = access.visit(request, may=access.May.LEAD, group=group_id)
    whole = queries.whole(visit.its_group)
    value = _value(whole, row=queries.band_in(visit.its_group, band_id=band_id))
    limit_ratio = group_loads.stretch_limit_ratio(whole)
    return {
        "visit": visit,
        "group": visit.its_group,
        "band_id": band_id,
        "value": value,
        "band": bands_context.band_page(value, group=whole, on=localdate()),
        "limit_ratio": limit_ratio,
        "limit": f"{limit_ratio:g}",
        "today": localdate().isoformat(),
        "measuring": True,
        "band_cautions": band_cautions.MEASURING,
        "wrong": (),
    }


def _value(whole: Group, *, row: Any) -> Band:
    found = next((each for each in whole.bands if row and each.label == row.label), None)
    if found is None:
        raise Http404
    return found
