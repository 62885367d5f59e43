"""Too many wrong passwords: who waits, how long, and how somebody is let in again.

Counted by user name and address together, so that a stranger elsewhere cannot shut a
coordinator out, and one shared tablet's mistake does not stop the whole shop.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from typing import Any

from axes.models import AccessAttempt
from axes.utils import reset
from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone


def locked_out(
    request: HttpRequest, _answer: HttpResponse | None, credentials: Mapping[str, Any] | None
) -> HttpResponse:
    """The page instead of the sign-in form: how long to wait, and whom to ask (429)."""
    minutes = minutes_left(str((credentials or {}).get("username", "")))
    return render(request, "access/locked_out.html", {"minutes": minutes}, status=429)


def minutes_left(username: str) -> int:
    """How long the name still waits, in whole minutes; 0 when it does not (one query)."""
    latest = _too_many().filter(username=username).order_by("-attempt_time").first()
    if latest is None:
        return 0
    left: float = (
        latest.attempt_time + settings.AXES_COOLOFF_TIME - timezone.now()
    ).total_seconds()
    return max(0, math.ceil(left / 60))


def waiting_among(usernames: Iterable[str]) -> set[str]:
    """Those of the names that may not try again yet (one query)."""
    since = timezone.now() - settings.AXES_COOLOFF_TIME
    found = _too_many().filter(username__in=list(usernames), attempt_time__gt=since)
    return set(found.values_list("username", flat=True))


def let_in_again(username: str) -> None:
    """Forget the wrong passwords given for the name, from every address."""
    reset(username=username)


def _too_many() -> Any:
    return AccessAttempt.objects.filter(failures_since_start__gte=settings.AXES_FAILURE_LIMIT)
