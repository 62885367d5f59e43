"""Which kinds of jobs there are: each slice registers its own in ``tasks.py``."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, TypeVar

from django.contrib.auth.models import AbstractBaseUser

from inventory.places.models import Shop
from workshops.common.models import Job

Work = Callable[..., dict[str, Any]]
W = TypeVar("W", bound=Work)


class Refused(Exception):
    """A job that cannot be done as asked; the message is shown as it is."""


@dataclass(frozen=True)
class Kind:
    """One kind of job: its function, its title on the page, the errors that explain themselves."""

    title: str
    work: Work
    refusals: tuple[type[Exception], ...]


KINDS: dict[str, Kind] = {}


@dataclass(frozen=True)
class Running:
    """What a job's function gets in hand: whose job it is, and a way to tell how far it is."""

    job: Job

    @property
    def shop(self) -> Shop:
        """The shop the job belongs to."""
        return self.job.shop

    @property
    def by(self) -> AbstractBaseUser | None:
        """Who asked for it; None for a command."""
        return self.job.asked_by

    def say(self, percent: int, words: str) -> None:
        """Keep the progress, so that the job's page shows it (one query).

        Inside a transaction nobody sees it before the commit: say it between actions.
        """
        # By key and not by save: the row may have been changed since this job began.
        Job.objects.filter(pk=self.job.pk).update(
            progress=max(0, min(100, percent)), message=words[:300]
        )


def job(
    kind: str, *, title: str = "", refusals: tuple[type[Exception], ...] = ()
) -> Callable[[W], W]:
    """Register a function as a kind of job.

    The function takes ``(running, **arguments)`` and returns what JSON can hold. Two keys
    of the result are shown on the job's page: ``says``, a sentence, and ``next``, the
    address to go on to. Errors in ``refusals`` tell the person their own message.
    """

    def register(work: W) -> W:
        KINDS[kind] = Kind(title or kind.replace("_", " ").capitalize(), work, (Refused, *refusals))
        return work

    return register


def title_of(kind: str) -> str:
    """The title of a kind of job; of one that is no longer registered, its name."""
    return KINDS[kind].title if kind in KINDS else kind.replace("_", " ").capitalize()
