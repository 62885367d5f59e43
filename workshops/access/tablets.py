"""Sessions on a shared tablet: they end when it is left lying, and at a set hour.

A session is marked at sign-in. What somebody was sending when it ended is kept beside the
sign-in page and offered again to the same person, and to nobody else.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from django.conf import settings
from django.contrib.auth import logout
from django.contrib.auth.views import redirect_to_login
from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django_htmx.http import HttpResponseClientRedirect

from workshops.access.models import User
from workshops.access.queries import shops_of

# Names of what is kept in the session.
ENDS_AT, SEEN_AT = "shared_ends_at", "shared_seen_at"
ENDED, TYPED = "shared_ended", "shared_typed"
# The header of what a page sends or asks without anybody pressing anything.
ASKS_BY_ITSELF = "X-By-Itself"
# How old the note of the last press may be: a session written at every page is slow.
NOTED_EVERY = 60
# A form longer than this is not kept: a file is chosen again sooner than it is found here.
LONGEST = 100_000
NOT_TYPED = {"csrfmiddlewaretoken", "password", "old_password", "new_password1", "new_password2"}


@dataclass(frozen=True)
class Typed:
    """A form that was on its way when the session ended."""

    user: int
    path: str
    fields: list[tuple[str, str]]


def mark_shared(request: HttpRequest, user: User) -> None:
    """Say that this session runs on a shared tablet: from now on it ends by itself."""
    now = timezone.now()
    request.session[ENDS_AT] = next_end(now, _zone_of(user)).timestamp()
    request.session[SEEN_AT] = now.timestamp()
    # And when the browser is closed, whichever comes first.
    request.session.set_expiry(0)


def next_end(now: datetime, zone: ZoneInfo) -> datetime:
    """The next time the set hour strikes in the zone.

    Set on the clock on the wall, so a night on which the clocks change ends at that hour too.
    """
    hour: time = settings.SHARED_TABLET_ENDS_AT
    local = now.astimezone(zone)
    end = datetime.combine(local.date(), hour, zone)
    return end if end > local else datetime.combine(local.date() + timedelta(1), hour, zone)


def why_ended(request: HttpRequest, now: datetime) -> str:
    """``idle`` or ``hour`` when a shared session is over, else nothing."""
    ends_at, seen_at = request.session.get(ENDS_AT), request.session.get(SEEN_AT, 0)
    if ends_at is None:
        return ""
    if now.timestamp() >= ends_at:
        return "hour"
    left = now.timestamp() - seen_at
    return "idle" if left > settings.SHARED_TABLET_IDLE_MINUTES * 60 else ""


def end_on_shared_tablets(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Signs a shared tablet out when it was left lying, or its hour has struck."""

    def answer(request: HttpRequest) -> HttpResponse:
        if ENDS_AT not in request.session:
            return get_response(request)
        now = timezone.now()
        why = why_ended(request, now)
        if why and request.user.is_authenticated:
            return _end(request, why)
        is_old = now.timestamp() - request.session.get(SEEN_AT, 0) > NOTED_EVERY
        # What a page asks by itself is no press: it must not keep a tablet left lying signed in.
        if is_old and ASKS_BY_ITSELF not in request.headers:
            request.session[SEEN_AT] = now.timestamp()
        return get_response(request)

    return answer


def typed_by(request: HttpRequest) -> Typed | None:
    """What the person who has just signed in was sending, if it is kept for them."""
    kept = request.session.get(TYPED)
    if not kept or kept["user"] != request.user.pk:
        return None
    return Typed(kept["user"], kept["path"], [(name, value) for name, value in kept["fields"]])


def forget_typed(request: HttpRequest) -> None:
    """Sent again, or given up."""
    request.session.pop(TYPED, None)


def _end(request: HttpRequest, why: str) -> HttpResponse:
    typed = _typed(request)
    # Whoever was sending something goes on at the front: many addresses take POST alone.
    where = request.get_full_path() if request.method == "GET" else "/"
    logout(request)
    request.session[ENDED] = why
    if typed:
        request.session[TYPED] = typed
    answer = redirect_to_login(where)
    if getattr(request, "htmx", False):
        return HttpResponseClientRedirect(answer.url)
    return answer


def _typed(request: HttpRequest) -> dict[str, Any] | None:
    if request.method != "POST" or request.FILES:
        return None
    # Signing out at the end of the evening is no form to be offered again, and what a script
    # sends stays on the tablet until it is taken.
    if request.path == "/sign-out/" or request.content_type == "application/json":
        return None
    fields = [
        (name, value)
        for name, values in request.POST.lists() if name not in NOT_TYPED
        for value in values
    ]  # fmt: skip
    if sum(len(name) + len(value) for name, value in fields) > LONGEST:
        return None
    return {"user": request.user.pk, "path": request.get_full_path(), "fields": fields}


def _zone_of(user: User) -> ZoneInfo:
    shop = shops_of(user).first()
    return shop.zone if shop else ZoneInfo(settings.TIME_ZONE)
