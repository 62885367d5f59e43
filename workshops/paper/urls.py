"""Addresses of the slice's pages, below the shop's own address."""

from __future__ import annotations

from django.urls import URLPattern, path

from workshops.paper import label_views, views

app_name = "paper"
urlpatterns: list[URLPattern] = [
    path("paper/", views.papers, name="list"),
    path("paper/cards/", views.cards, name="cards"),
    path("paper/cut-list/", views.cut_list, name="cut_list"),
    path("paper/outlook/", views.outlook, name="outlook"),
    path("paper/labels/", label_views.labels, name="labels"),
    path("paper/<int:pk>/", views.file, name="file"),
]
