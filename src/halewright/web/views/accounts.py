"""First run, sign in, sign out."""

from django.contrib.auth import login, logout
from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST

from halewright.store import queries
from halewright.usecases import accounts
from halewright.web import doorkeeper, middleware


@login_not_required
@sensitive_post_parameters("password")
@require_http_methods(["GET", "HEAD", "POST"])
def first_run(request: HttpRequest) -> HttpResponse:
    """Make the first leader and sign them in; once there is one, lead to the sign-in page.

    Only at the computer itself, so that nobody else in a hall can become the first leader.
    """
    if queries.is_anybody_here():
        return redirect("sign-in")
    if not middleware.from_this_machine(request):
        return render(request, "web/accounts/first_run_here.html", status=403)
    if request.method != "POST":
        return render(request, "web/accounts/first_run.html")
    name = request.POST.get("name", "")
    organisation = request.POST.get("organisation", "")
    new = accounts.NewMember(name=name, password=request.POST.get("password", ""))
    try:
        member = accounts.create_first_leader(organisation=organisation, new=new)
    except accounts.LeaderExists:
        return redirect("sign-in")
    except accounts.NotAccepted as refusal:
        context = {"name": name, "organisation": organisation, "reasons": refusal.reasons}
        return render(request, "web/accounts/first_run.html", context, status=422)
    login(request, member.user)
    return redirect("groups")


@login_not_required
@sensitive_post_parameters("password")
@require_http_methods(["GET", "HEAD", "POST"])
def sign_in(request: HttpRequest) -> HttpResponse:
    """Let a member in; before there is anybody, lead to the first run."""
    if not queries.is_anybody_here():
        return redirect("first-run")
    context = {"next": request.GET.get("next", ""), "name": "", "words": ""}
    if request.method != "POST":
        return render(request, "web/accounts/sign_in.html", context)
    name = request.POST.get("name", "")
    context |= {"next": request.POST.get("next", ""), "name": name}
    if doorkeeper.must_wait(request, name=name):
        context["words"] = "Too many tries. Wait five minutes, then try again."
        return render(request, "web/accounts/sign_in.html", context, status=429)
    user = accounts.check(name=name, password=request.POST.get("password", ""))
    if user is None:
        doorkeeper.note_refusal(request, name=name)
        context["words"] = "The name and the password do not belong together. Try again."
        return render(request, "web/accounts/sign_in.html", context, status=422)
    doorkeeper.forget(request, name=name)
    login(request, user)
    return redirect(_onward(request, context["next"]))


@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    """Forget who it was."""
    logout(request)
    return redirect("sign-in")


def _onward(request: HttpRequest, target: str) -> str:
    """Return the page that was asked for, if it is one of ours."""
    ours = url_has_allowed_host_and_scheme(
        target, allowed_hosts={request.get_host()}, require_https=request.is_secure()
    )
    return target if ours else "groups"
