"""Addresses of the close-out, below the shop's own name."""

from __future__ import annotations

from django.urls import URLPattern, path

from workshops.lockup import views

app_name = "lockup"
urlpatterns: list[URLPattern] = [
    path("nights/<day:on>/close/", views.close, name="close"),
    path("nights/<day:on>/close/steps/", views.steps, name="steps"),
    path("nights/<day:on>/hand-over/", views.hand_over, name="hand_over"),
    path("nights/<day:on>/hand-over/read/", views.read, name="read"),
]
