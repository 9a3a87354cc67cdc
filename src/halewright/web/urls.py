"""Every address on one page."""

urlpatterns: list[object] = []
