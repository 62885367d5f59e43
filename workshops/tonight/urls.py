"""Addresses of tonight, below the shop's own name and the day of a night."""

from __future__ import annotations

from django.urls import URLPattern, path

from workshops.tonight.views import asking, off, tapping, tonight

app_name = "tonight"
urlpatterns: list[URLPattern] = [
    path("nights/<day:on>/tonight/", tonight.tonight, name="tonight"),
    path("nights/<day:on>/tonight/cost/<int:pk>/", tonight.cost, name="cost"),
    path("nights/<day:on>/tonight/cold/", tonight.cold, name="cold"),
    path("nights/<day:on>/tonight/phones/<int:pk>/", tonight.phones, name="phones"),
    path("nights/<day:on>/tonight/asked/", asking.asked, name="asked"),
    path("nights/<day:on>/tonight/asked/<int:pk>/", asking.replied, name="replied"),
    path("nights/<day:on>/tonight/not-coming/", tapping.not_coming, name="not_coming"),
    path("nights/<day:on>/tonight/changed/<int:pk>/", tapping.changed, name="changed"),
    path("nights/<day:on>/tonight/changed/<int:pk>/back/", tapping.back, name="back"),
    path("nights/<day:on>/tonight/off/", off.off, name="off"),
    path("nights/<day:on>/tonight/off/tell/", off.tell, name="tell"),
    path("nights/<day:on>/tonight/off/rung/<int:pk>/", off.rung, name="rung"),
    path("nights/<day:on>/tonight/off/phones/", off.ring_list, name="ring_list"),
    path("nights/<day:on>/tonight/off/training/", off.training, name="training"),
]
