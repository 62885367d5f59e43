"""What every template knows about the person in front of it."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest

from workshops.access.roles import permissions_of


def may(request: HttpRequest) -> dict[str, Any]:
    """``shop``, ``member`` and ``may`` (values of permissions), once a guard has run.

    Without a guard (the sign-in page, an error page) ``shop`` is None and ``may`` empty.
    """
    member = getattr(request, "member", None)
    allowed = permissions_of(member.role) if member else frozenset()
    return {
        "shop": getattr(request, "shop", None),
        "member": member,
        # Plain text, because templates can compare nothing else; and empty before a guard has run.
        "may": frozenset(permission.value for permission in allowed),
    }
