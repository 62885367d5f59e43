"""The book in the admin: to read, never to write."""

from __future__ import annotations
