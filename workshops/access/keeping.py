"""Which pages a browser may keep for when the network is down, for whom, and until when."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from functools import wraps
from typing import Concatenate, ParamSpec

from django.http import HttpResponse
from django.utils import timezone

from workshops.access.guards import ShopRequest
from workshops.access.tablets import ENDS_AT

P = ParamSpec("P")
View = Callable[Concatenate[ShopRequest, P], HttpResponse]

# A night and the morning after it: long enough to mend what the network lost.
OWN_DEVICE = timedelta(hours=16)
HEADER = "X-Keep-Offline"


def keep_offline(view: View[P]) -> View[P]:
    """Let the browser keep the page as last seen; stands below the guard.

    On a shared tablet it is kept until the hour at which the session ends anyway. It is
    cleared sooner by whoever signs out, and once the sign-in page or another person's page
    is shown (``offline.js``). Everything not so marked is never kept.
    """

    @wraps(view)
    def kept(request: ShopRequest, /, *args: P.args, **kwargs: P.kwargs) -> HttpResponse:
        answer = view(request, *args, **kwargs)
        if request.method == "GET" and answer.status_code == 200:
            until = request.session.get(ENDS_AT) or (timezone.now() + OWN_DEVICE).timestamp()
            answer.headers[HEADER] = f"{request.user.pk} {int(until)}"
        return answer

    return kept
