"""Addresses of the slice's pages, below the shop's own address."""

from django.urls import URLPattern

app_name = "stations"
urlpatterns: list[URLPattern] = []
