"""Pages that say no, in plain words."""

from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render


@login_not_required
def stale_form(request: HttpRequest, reason: str = "") -> HttpResponse:
    """Say that the form was too old to be trusted; `reason` is for people who work on this."""
    return render(request, "web/refusals/stale_form.html", {"reason": reason}, status=403)


@login_not_required
def not_here(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """Say that there is no such page, or none that this member may see."""
    _ = exception
    return render(request, "web/refusals/not_here.html", status=404)


@login_not_required
def not_allowed(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """Say that this is the leader's to do."""
    return render(
        request, "web/refusals/not_allowed.html", {"words": str(exception or "")}, status=403
    )
