"""Rows that the administration shows and does not change."""

from __future__ import annotations

from typing import Any, TypeVar

from django.contrib import admin
from django.db.models import Model
from django.http import HttpRequest

Row = TypeVar("Row", bound=Model)


class ReadOnlyAdmin(admin.ModelAdmin[Row]):
    """Shown, searched, never added, changed or deleted: the slice's own actions do that."""

    def has_add_permission(self, request: HttpRequest) -> bool:
        """Nobody."""
        del request
        return False

    def has_change_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        """Nobody."""
        del request, obj
        return False

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        """Nobody."""
        del request, obj
        return False
