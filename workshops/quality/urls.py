"""Addresses of the checks, below the shop's own name."""

from __future__ import annotations

from django.urls import URLPattern

app_name = "quality"
urlpatterns: list[URLPattern] = []
