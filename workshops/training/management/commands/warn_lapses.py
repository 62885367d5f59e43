"""``python3 manage.py warn_lapses``: tell people and authorisers whose sign-off ends soon."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand

from inventory.places.models import Shop
from workshops.training.actions import warn_lapses


class Command(BaseCommand):
    """For a timer, once a day: every warning is sent once however often it runs."""

    help = "Warns of sign-offs that lapse, three weeks and one week ahead by the usual rules."

    def handle(self, *_args: Any, **_options: Any) -> None:
        """Every shop, one after the other."""
        for shop in Shop.objects.all():
            rows = warn_lapses(shop=shop)
            mute = {row.sent_to_id for row in rows if not row.has_email}
            readers = {row.sent_to_id for row in rows}
            self.stdout.write(
                f"{shop}: {len(readers)} people to warn of {len({r.sign_off_id for r in rows})} "
                f"sign-offs, {len(mute)} of them without an e-mail address."
            )
