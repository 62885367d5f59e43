"""Every address of the site: a shop's pages live under the shop's own name."""

from __future__ import annotations

from django.contrib import admin
from django.urls import URLPattern, URLResolver, include, path

# Slices whose pages all belong to one shop, from the left. ``access`` and ``home`` also
# have pages of no shop and write the shop into their addresses themselves.
SHOP_SLICES = ["club", "stations", "people", "nights", "season", "stock", "paper"]

urlpatterns: list[URLPattern | URLResolver] = [
    path("admin/", admin.site.urls),
    path("", include("workshops.access.urls")),
    *(path("<slug:shop>/", include(f"workshops.{name}.urls")) for name in SHOP_SLICES),
    path("", include("workshops.home.urls")),
]
