"""``check_ledger``: add up every line again and compare with the balances."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.db import connection

from inventory.ledger import seal
from inventory.ledger.models import Entry
from inventory.ledger.queries import check
from inventory.places.models import Shop


class Command(BaseCommand):
    """Say whether the book is right; the exit status is 1 when it is not."""

    help = "Adds up every line of the book again and compares with the balances."

    def handle(self, **_options: Any) -> None:
        """Check every shop and the seal, then tell what was found."""
        wrong = 0
        for shop in Shop.objects.all():
            differences = check(shop)
            wrong += len(differences)
            entries = Entry.objects.filter(shop=shop).count()
            verdict = f"{len(differences)} balances differ" if differences else "the book is right"
            self.stdout.write(f"{shop}: {entries} entries, {verdict}.")
            for difference in differences:
                self.stdout.write(f"  {difference}")
        if not seal.is_closed(connection):
            raise CommandError("The seal of the book is broken: posted lines could be changed.")
        if wrong:
            raise CommandError(f"{wrong} balances are not what their lines add up to.")
