"""Shops, rooms and places in the admin."""

from __future__ import annotations
