"""Addresses of the slice's pages, below the shop's own address."""

from __future__ import annotations

from django.urls import URLPattern, path

from workshops.season import views

app_name = "season"
urlpatterns: list[URLPattern] = [
    path("winter/", views.winter, name="winter"),
    path("winter/begin/", views.begin, name="begin"),
    path("winter/target/", views.target, name="target"),
    path("winter/ice/", views.ice, name="ice"),
    path("winter/outlook/", views.outlook, name="outlook"),
    path("winter/outlook.svg", views.picture, name="picture"),
]
