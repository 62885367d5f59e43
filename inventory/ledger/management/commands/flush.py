"""``flush`` for a database with a sealed book: break the seal, empty, close it again."""

from __future__ import annotations

from contextlib import ExitStack
from typing import Any

from django.core.management.commands import flush
from django.db import connections

from inventory.ledger import seal


class Command(flush.Command):
    """Django's own flush, which the seal on the book would refuse."""

    def handle(self, **options: Any) -> None:
        """Empty every table, the book and whatever else is sealed among them."""
        with ExitStack() as broken:
            for unsealed in seal.SEALS:
                broken.enter_context(unsealed(connections[options["database"]]))
            super().handle(**options)
