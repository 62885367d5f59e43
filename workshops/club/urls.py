"""Addresses of the club's rules, below the shop's own name."""

from __future__ import annotations

from django.urls import path

from workshops.club import views

app_name = "club"
urlpatterns = [
    path("rules/", views.rules, name="rules"),
    path("rules/<slug:key>/", views.rule, name="rule"),
    path("rules/<slug:key>/usual/", views.usual, name="usual"),
]
