"""Files that people brought and that wait to be looked at: kept, found, thrown away.

Only who brought a file finds it again. A file that waited for two days is thrown away when
the next one comes: by then its list is out of date.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from django.contrib.auth.base_user import AbstractBaseUser
from django.db import transaction
from django.db.models import QuerySet

from inventory.places.models import Shop
from workshops.common.models import Upload

WAITS = timedelta(days=2)


def uploads_of(shop: Shop, by: AbstractBaseUser, kinds: list[str]) -> QuerySet[Upload]:
    """What one person brought and left lying, newest first, without its contents. 1 query."""
    return Upload.objects.filter(shop=shop, by=by.pk, kind__in=kinds).defer("data")


def upload_of(shop: Shop, by: AbstractBaseUser, pk: int) -> Upload | None:
    """One file of the person; ``None`` for anybody else's. 1 query."""
    return Upload.objects.filter(shop=shop, by=by.pk, pk=pk).first()


@transaction.atomic
def keep_upload(
    *, shop: Shop, kind: str, name: str, data: bytes, by: AbstractBaseUser, at: datetime,
    choices: dict[str, Any] | None = None,
) -> Upload:  # fmt: skip
    """Keep a file until it is looked at; those of any shop that waited too long go."""
    Upload.objects.filter(brought_at__lt=at - WAITS).delete()
    return Upload.objects.create(
        shop=shop, kind=kind, name=name[-120:], data=data, by_id=by.pk, brought_at=at,
        choices=choices or {},
    )  # fmt: skip


def choose(upload: Upload, **choices: Any) -> None:
    """Change what was chosen beside the file."""
    upload.choices = upload.choices | choices
    upload.save(update_fields=["choices"])


def throw_away(upload: Upload) -> bool:
    """Whether the file was still there to be thrown away."""
    return bool(Upload.objects.filter(pk=upload.pk).delete()[0])
