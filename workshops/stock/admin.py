"""Cut-overs in the admin, to look at: they are decided on the site and stay as they are."""

from __future__ import annotations

from django.contrib import admin

from inventory.places.readonly import ReadOnlyAdmin
from workshops.stock.models import CutOver, CutOverLine


class LineInline(admin.TabularInline[CutOverLine, CutOver]):
    """The fates."""

    model = CutOverLine
    extra = 0
    can_delete = False


@admin.register(CutOver)
class CutOverAdmin(ReadOnlyAdmin[CutOver]):
    """Cut-overs with their fates."""

    list_display = ["at", "shop", "sheet", "before", "by"]
    list_filter = ["shop"]
    list_select_related = ["shop", "sheet", "before", "by"]
    inlines = [LineInline]
