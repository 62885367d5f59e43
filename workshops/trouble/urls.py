"""Addresses of trouble, below the shop's own name."""

from __future__ import annotations

from django.urls import URLPattern

app_name = "trouble"
urlpatterns: list[URLPattern] = []
