"""Every address of the site: a shop's pages live under the shop's own name."""

from __future__ import annotations

from django.contrib import admin
from django.urls import URLPattern, URLResolver, include, path
from django.views.decorators.http import require_POST

from workshops.access.guards import Permission, guard
from workshops.common import views as common

# ``common`` stands below the guards, so the guards of its pages are put on here.
COMMON_PAGES = [
    # At the root, because a worker answers for what lies below its own address.
    path("worker.js", common.worker, name="worker"),
    path("face/", common.gallery, name="gallery"),
    path("<slug:shop>/jobs/", guard(Permission.SEE_JOBS)(common.job_list), name="jobs"),
    path("<slug:shop>/jobs/<int:pk>/", guard(Permission.SEE_JOBS)(common.job), name="job"),
    path(
        "<slug:shop>/jobs/<int:pk>/again/",
        require_POST(guard(Permission.SEE_JOBS)(common.job_again)),
        name="job_again",
    ),
]

# Slices whose pages all belong to one shop, from the left. ``access``, ``mine`` and ``home`` also
# have pages of no shop and write the shop into their addresses themselves.
SHOP_SLICES = ["club", "stations", "people", "nights", "counting", "quality", "trouble", "lockup",
               "season", "training", "tonight", "flow", "stock", "paper"]  # fmt: skip

urlpatterns: list[URLPattern | URLResolver] = [
    path("admin/", admin.site.urls),
    path("", include("workshops.access.urls")),
    path("", include((COMMON_PAGES, "common"))),
    *(path("<slug:shop>/", include(f"workshops.{name}.urls")) for name in SHOP_SLICES),
    # After the nights, whose way of writing a day stands in its addresses too.
    path("", include("workshops.mine.urls")),
    path("", include("workshops.home.urls")),
]
