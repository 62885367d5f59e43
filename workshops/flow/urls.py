"""Addresses of the slice's pages, below the shop's own address."""

from __future__ import annotations

from django.urls import URLPattern, path

from workshops.flow import views

app_name = "flow"
urlpatterns: list[URLPattern] = [
    path("nights/<day:on>/flow/", views.board, name="board"),
    path("nights/<day:on>/flow/swap/", views.swap, name="swap"),
]
