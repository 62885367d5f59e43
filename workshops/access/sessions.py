"""Sessions that lie in the database: ended for an account, and cleared of what was typed."""

from __future__ import annotations

from collections.abc import Callable, Collection

from django.contrib.auth import SESSION_KEY
from django.contrib.sessions.backends.cached_db import SessionStore
from django.contrib.sessions.models import Session

from inventory.places.models import Shop
from workshops.access.tablets import TYPED


def forget_in_sessions(
    shop: Shop, accounts: Collection[int | None], is_named: Callable[[str], bool]
) -> None:
    """End the sessions of the accounts; drop what waits to be sent again and names somebody.

    Sessions are of no shop and their contents are packed, so each is opened: one query, and
    two for each that changes.
    """
    ended = {str(account) for account in accounts if account is not None}
    for row in Session.objects.all():
        kept = row.get_decoded()
        if kept.get(SESSION_KEY) in ended:
            SessionStore(row.session_key).delete()
        elif typed := kept.get(TYPED):
            is_here = typed["path"].startswith(f"/{shop.slug}/")
            if is_here and is_named(" ".join(value for _, value in typed["fields"])):
                _drop_typed(row.session_key)


def _drop_typed(key: str) -> None:
    store = SessionStore(key)
    store.pop(TYPED, None)
    store.save()
