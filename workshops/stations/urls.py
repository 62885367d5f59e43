"""Addresses of the slice's pages, below the shop's own name."""

from __future__ import annotations

from django.urls import URLPattern

app_name = "stations"
urlpatterns: list[URLPattern] = []
