"""Addresses of training, below the shop's own name."""

from __future__ import annotations

from django.urls import URLPattern, path

from workshops.training.views import evening, lapses, timetable

app_name = "training"
urlpatterns: list[URLPattern] = [
    path("training/", timetable.training, name="training"),
    path("training/timetable/", timetable.timetable, name="timetable"),
    path("training/timetable/take/", timetable.take, name="take"),
    path("training/timetable/<int:pk>/drop/", timetable.drop, name="drop"),
    path("training/re-sign/", evening.resign, name="resign"),
    path("training/re-sign/paper/", evening.resign_paper, name="resign_paper"),
    path("training/re-sign/<int:person>/<int:station>/", evening.resign_one, name="resign_one"),
    path("training/lapses/", lapses.lapses, name="lapses"),
    path("training/lapses/weigh/", lapses.weigh, name="weigh"),
    path("training/lapses/warn/", lapses.warn, name="warn"),
]
