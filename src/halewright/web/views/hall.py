"""The hall screen: one page, its document and its worker. Anyone in the hall may see them."""

import hashlib
import json
from functools import cache
from importlib import resources

from django.conf import settings
from django.contrib.auth.decorators import login_not_required
from django.contrib.staticfiles import finders
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.templatetags.static import static
from django.urls import reverse
from django.views.decorators.http import require_safe

from halewright.usecases import hall, serving
from halewright.web import stop_signs

_STATIC = (
    "web/img/mark.svg",
    "web/css/fonts.css",
    "web/css/palette.css",
    "fonts/AtkinsonHyperlegible-Regular.ttf",
    "fonts/AtkinsonHyperlegible-Bold.ttf",
    "web/hall/hall.css",
    "web/hall/main.js",
    "web/hall/clock.js",
    "web/hall/figures.js",
    "web/hall/keys.js",
    "web/hall/offline.js",
    "web/hall/pace.js",
    "web/hall/screen.js",
    "web/hall/store.js",
)
"""Everything that the page needs beside itself and its document."""


@login_not_required
@require_safe
def screen(request: HttpRequest) -> HttpResponse:
    """Show the page; it is the same for every session."""
    return _page(request)


@login_not_required
@require_safe
def document(request: HttpRequest) -> HttpResponse:  # noqa: ARG001  Django hands it in
    """Send the session that is on the hall screen."""
    return HttpResponse(hall.shown(settings.HOME), content_type="application/json")


@login_not_required
@require_safe
def worker(request: HttpRequest) -> HttpResponse:
    """Send the service worker, which differs as soon as anything that it keeps differs."""
    page = _page(request).content
    body = _worker_body()
    made = hashlib.sha256()
    for part in (page, hall.shown(settings.HOME), body, *_static_bytes()):
        made.update(hashlib.sha256(part).digest())
    kept = [reverse("hall"), reverse("hall") + "document.json", *(static(name) for name in _STATIC)]
    version = json.dumps(made.hexdigest()[:16])
    head = f"const VERSION = {version};\nconst ASSETS = {json.dumps(kept)};\n"
    return HttpResponse(head.encode() + body, content_type="text/javascript; charset=utf-8")


@login_not_required
@require_safe
def trust(request: HttpRequest) -> HttpResponse:
    """Say how a phone or laptop is told to trust this server."""
    return render(request, "web/hall/trust.html", {"authority": serving.authority(settings.HOME)})


@login_not_required
@require_safe
def authority(request: HttpRequest) -> HttpResponse:  # noqa: ARG001  Django hands it in
    """Send the local authority's certificate, which has no secret in it."""
    made = serving.authority(settings.HOME)
    if made is None:
        raise Http404
    answer = HttpResponse(made.certificate, content_type="application/x-x509-ca-cert")
    answer["Content-Disposition"] = 'attachment; filename="halewright-authority.crt"'
    return answer


def _page(request: HttpRequest) -> HttpResponse:
    words = {
        "stop_now": stop_signs.STOP_NOW,
        "sit_and_ask": stop_signs.SIT_AND_ASK,
        "drill": stop_signs.DRILL,
    }
    return render(request, "web/hall/screen.html", words)


def _worker_body() -> bytes:
    return resources.files("halewright.web").joinpath("static/web/hall/worker.js").read_bytes()


def _static_bytes() -> tuple[bytes, ...]:
    return tuple(_read(path) for path in map(finders.find, _STATIC) if path)


@cache
def _read(path: str) -> bytes:
    with open(path, "rb") as file:  # noqa: PTH123  finders give text
        return file.read()
