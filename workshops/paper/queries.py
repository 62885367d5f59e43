"""What the paper page needs."""

from __future__ import annotations

from django.db.models import QuerySet

from inventory.places.models import Shop
from workshops.paper.models import Paper


def papers_of(shop: Shop) -> QuerySet[Paper]:
    """Papers made so far, newest first. 1 query; empty before the first."""
    return Paper.objects.filter(shop=shop).select_related("night").order_by("-made_at", "-pk")
