"""``check_ledger``: ask every rule of the book again of everything that was posted."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import connection

from inventory.ledger import seal
from inventory.ledger.checking import faults
from inventory.ledger.mending import mend
from inventory.ledger.models import Entry
from inventory.places.models import Shop

BROKEN = (
    "The seal of the book is broken: posted lines could be changed. Close it again with "
    "“python3 manage.py seal_ledger”, then ask who opened it."
)


class Command(BaseCommand):
    """Say whether the book is right; the exit status is 1 when it is not."""

    help = (
        "Adds up every line of the book again and compares with the balances; also that every "
        "entry comes to nothing, names nothing of another shop, was posted once and is sealed."
    )

    def add_arguments(self, parser: CommandParser) -> None:
        """Whether to write wrong balances anew."""
        parser.add_argument(
            "--mend", action="store_true", help="write wrong balances anew from their lines"
        )

    def handle(self, **options: Any) -> None:
        """Check every shop and the seal, then tell what was found."""
        wrong = 0
        for shop in Shop.objects.all():
            if options["mend"]:
                self.stdout.write(f"{shop}: {mend(shop)} balances written anew.")
            found = list(faults(shop))
            wrong += len(found)
            entries = Entry.objects.filter(shop=shop).count()
            verdict = f"{len(found)} things are wrong" if found else "the book is right"
            self.stdout.write(f"{shop}: {entries} entries, {verdict}.")
            for fault in found:
                self.stdout.write(f"  {fault}")
        if not seal.is_closed(connection):
            raise CommandError(BROKEN)
        if wrong:
            raise CommandError(f"{wrong} things are wrong in the book; each says what to do.")
