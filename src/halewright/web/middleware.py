"""What every answer carries, and which requests are turned away before any page is made."""

from collections.abc import Callable
from ipaddress import ip_address

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import Resolver404, resolve

Answer = Callable[[HttpRequest], HttpResponse]

POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data: blob:",
        "font-src 'self'",
        "connect-src 'self'",
        "media-src 'self' blob:",
        "manifest-src 'self'",
        "worker-src 'self'",
        "form-action 'self'",
        "frame-ancestors 'none'",
        "base-uri 'none'",
    )
)
"""Nothing from elsewhere and nothing inline."""


class ContentPolicy:
    """Sends the content security policy, and keeps personal pages out of every store."""

    def __init__(self, answer: Answer) -> None:
        """Keep the rest of the chain."""
        self._answer = answer

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer with the headers that every page has."""
        response = self._answer(request)
        response.setdefault("Content-Security-Policy", POLICY)
        response.setdefault("Permissions-Policy", "camera=(), microphone=(), geolocation=()")
        if not request.path.startswith("/static/"):
            response.setdefault("Cache-Control", "no-store")
        return response


class PersonalPagesNeedPrivacy:
    """Turns away personal pages over plain HTTP unless the request comes from this machine.

    Only the connection itself is believed (`is_secure` and REMOTE_ADDR); no header is.
    Addresses named in `OPEN_PAGES`, and static files, hold nothing about anybody.
    """

    def __init__(self, answer: Answer) -> None:
        """Keep the rest of the chain."""
        self._answer = answer

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer, or say in plain words why not."""
        if request.is_secure() or from_this_machine(request) or holds_nothing_personal(request):
            return self._answer(request)
        return render(request, "web/refusals/plain_http.html", status=403)


OPEN_PAGES = frozenset({"hall", "hall-asset"})
"""Names of addresses that may be shown to a hall over plain HTTP: no name, no health."""


def from_this_machine(request: HttpRequest) -> bool:
    """Return whether the connection comes from the machine that serves it."""
    try:
        return ip_address(request.META.get("REMOTE_ADDR", "")).is_loopback
    except ValueError:
        return False


def holds_nothing_personal(request: HttpRequest) -> bool:
    """Return whether the address is a static file or one of the open pages."""
    if request.path.startswith("/static/"):
        return True
    try:
        return resolve(request.path_info).url_name in OPEN_PAGES
    except Resolver404:
        return False
