"""Addresses of the checks, below the shop's own name."""

from __future__ import annotations

from django.urls import URLPattern, path

from workshops.quality.views import checks, held

app_name = "quality"
urlpatterns: list[URLPattern] = [
    path("nights/<day:on>/checks/", checks.checks, name="checks"),
    path("nights/<day:on>/checks/<int:operation>/", checks.check, name="check"),
    path("nights/<day:on>/checks/<int:operation>/judge/", checks.judge, name="judge"),
    path("nights/<day:on>/checks/held/<int:pk>/", held.held, name="held"),
    path("nights/<day:on>/checks/held/<int:pk>/further/", held.further, name="further"),
]
