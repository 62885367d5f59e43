"""Items and recipes in the admin."""

from __future__ import annotations
