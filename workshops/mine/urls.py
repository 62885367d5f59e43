"""Addresses of one's own pages: the link and the calendar at the root, the rest in a shop."""

from __future__ import annotations

from django.urls import URLPattern, path

from workshops.mine.views import links, nights, pages

app_name = "mine"
urlpatterns: list[URLPattern] = [
    path("link/", links.ask, name="ask"),
    path("link/<str:token>/", links.open_link, name="open"),
    path("calendar/<str:secret>.ics", links.calendar, name="calendar"),
    path("<slug:shop>/my/", nights.nights, name="nights"),
    path("<slug:shop>/my/nights/<day:on>/", nights.answer, name="answer"),
    path("<slug:shop>/my/sign-offs/", pages.sign_offs, name="sign_offs"),
    path("<slug:shop>/my/hours/", pages.hours, name="hours"),
    path("<slug:shop>/my/calendar/", pages.calendar, name="feed"),
    path("<slug:shop>/my/details/", pages.details, name="details"),
    path("<slug:shop>/my/details/everything/", pages.everything, name="everything"),
    path("<slug:shop>/my/details/everything/file/", pages.everything_file, name="everything_file"),
]
