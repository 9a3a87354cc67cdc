"""The addresses of the hall screen; none of them has anything about anybody."""

from django.urls import path

from halewright.web.views import hall

urlpatterns = [
    path("", hall.screen, name="hall"),
    path("document.json", hall.document, name="hall-asset"),
    path("worker.js", hall.worker, name="hall-asset"),
    path("trust/", hall.trust, name="hall-asset"),
    path("halewright-authority.crt", hall.authority, name="hall-asset"),
]
