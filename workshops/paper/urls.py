"""Addresses of the slice's pages, below the shop's own address."""

from __future__ import annotations

from django.urls import URLPattern, path

from workshops.paper import label_views, order_views, views

app_name = "paper"
urlpatterns: list[URLPattern] = [
    path("paper/", views.papers, name="list"),
    path("paper/cards/", views.cards, name="cards"),
    path("paper/cut-list/", views.cut_list, name="cut_list"),
    path("paper/outlook/", views.outlook, name="outlook"),
    path("paper/order/", order_views.order, name="order"),
    path("paper/labels/", label_views.labels, name="labels"),
    path("paper/tally-sheet/", views.tally_sheet, name="tally_sheet"),
    path("paper/count-sheets/", views.count_sheets, name="count_sheets"),
    path("paper/incident-sheet/", views.trouble_sheet, name="trouble_sheet"),
    path("paper/permit/", views.permit, name="permit"),
    path("paper/<int:pk>/", views.file, name="file"),
]
