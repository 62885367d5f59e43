"""Addresses of trouble, below the shop's own name."""

from __future__ import annotations

from django.urls import URLPattern, path

from workshops.trouble.views import day_after, incidents, report

app_name = "trouble"
urlpatterns: list[URLPattern] = [
    path("nights/<day:on>/trouble/", report.night, name="night"),
    path("nights/<day:on>/trouble/stops/<int:pk>/reopen/", report.open_again, name="reopen"),
    path("nights/<day:on>/day-after/", day_after.day_after, name="day_after"),
    path("nights/<day:on>/day-after/<int:person>/phone/", day_after.phone, name="phone"),
    path("nights/<day:on>/who-worked-where/", day_after.worked, name="worked"),
    path("trouble/", incidents.incidents, name="list"),
    path("trouble/<int:pk>/", incidents.one, name="one"),
    path("trouble/<int:pk>/see-lead/", incidents.see_lead, name="see_lead"),
]
