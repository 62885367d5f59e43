"""A list brought by the storekeeper, looked at and written."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import pytest
from django.utils import timezone

from inventory.places.models import Shop
from workshops.access.models import User
from workshops.common.models import Upload
from workshops.common.sheets import write_csv
from workshops.common.uploads import keep_upload
from workshops.stock.exchange.commit import Outcome, commit
from workshops.stock.exchange.fates import RowFate
from workshops.stock.exchange.preview import Preview, preview_of

Bring = Callable[..., Upload]


@pytest.fixture
def bring(shop: Shop, storekeeper: User) -> Bring:
    """``bring("stock", [headings, row, ...], places=True)``."""

    def brought(kind: str, rows: Sequence[Sequence[Any]], **choices: Any) -> Upload:
        return keep_upload(
            shop=shop, kind=kind, name=f"{kind}.csv", data=write_csv(rows), by=storekeeper,
            at=timezone.now(), choices=choices,
        )  # fmt: skip

    return brought


@pytest.fixture
def look(bring: Bring) -> Callable[..., Preview]:
    """The fates of a list."""
    return lambda kind, rows, **choices: preview_of(bring(kind, rows, **choices))


@pytest.fixture
def write(storekeeper: User) -> Callable[[Upload], Outcome]:
    """Everything of a list written, as it is seen now."""

    def written(upload: Upload) -> Outcome:
        seen = preview_of(upload).plan.print
        return commit(upload, seen=seen, by=storekeeper, at=timezone.now())

    return written


def told(preview: Preview) -> list[tuple[int, str]]:
    """Row and fate, row by row."""
    return [(row.number, row.fate.value) for row in preview.plan.fates]


def only(preview: Preview) -> RowFate:
    """The fate of the one row of a list."""
    (row,) = preview.plan.fates
    return row
