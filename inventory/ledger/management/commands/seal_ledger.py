"""``seal_ledger``: close the seal of the book again after it was found open."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand
from django.db import connection

from inventory.ledger import seal


class Command(BaseCommand):
    """Put the triggers on that refuse to change what was posted."""

    help = "Closes the seal of the book: posted lines cannot be changed or deleted."

    def handle(self, **_options: Any) -> None:
        """Take off what is left of the seal and put all of it on."""
        seal.open_up(connection)
        seal.close(connection)
        self.stdout.write("The book is sealed.")
