"""Under whose name the trail of changes writes, where no page was asked for."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from auditlog.context import auditlog_value, set_actor
from django.contrib.auth.models import AbstractBaseUser


@contextmanager
def acting_for(user: AbstractBaseUser | None) -> Iterator[None]:
    """What is changed inside is the user's doing, in a job or a command too."""
    outside = auditlog_value.get(None)
    if user is None:
        yield
        return
    with set_actor(user):
        yield
    # Given back to the request around it, which goes on writing under its own name.
    if outside is not None:
        auditlog_value.set(outside)
