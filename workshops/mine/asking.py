"""How often a link may be asked for."""

from __future__ import annotations

import hashlib

from django.conf import settings
from django.core.cache import cache

HOUR = 3600


def is_too_often(*, email: str, host: str) -> bool:
    """Count one more asking; true past what an address, or a machine, may ask in an hour.

    Addresses are counted whether a club knows them or not: the count must not tell.
    """
    # Both are counted, even when the first is past already.
    often = [
        _counted(f"link-to-{_mixed(email.strip().casefold())}") > settings.LINKS_AN_HOUR,
        # A club's tablets share one connection: many may ask on a first night.
        _counted(f"link-by-{_mixed(host)}") > settings.LINKS_AN_HOUR * 10,
    ]
    return any(often)


def _counted(key: str) -> int:
    if cache.add(key, 1, HOUR):
        return 1
    try:
        return int(cache.incr(key))
    except ValueError:  # ran out between the two
        return 1


def _mixed(text: str) -> str:
    # No address book in the cache, and no character that a cache cannot take in a key.
    return hashlib.sha256(text.encode()).hexdigest()[:32]
