"""Who changed what in a shop, read from the trail that a library writes."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from auditlog.models import LogEntry
from django.contrib.contenttypes.models import ContentType
from django.core.exceptions import FieldDoesNotExist
from django.db import models

from inventory.places.models import Shop

NOT_SHOWN = "not shown"
AT_ONCE = 50
DONE = {0: "added", 1: "changed", 2: "removed"}
EMPTY = {"", "None", "null", "[]"}


@dataclass(frozen=True)
class Change:
    """One field, before and after, as words."""

    field: str
    before: str
    after: str


@dataclass(frozen=True)
class Line:
    """One thing that somebody added, changed or removed."""

    pk: int
    at: datetime
    who: str
    done: str
    kind: str
    what: str
    changes: list[Change]


@dataclass(frozen=True)
class Asked:
    """Which part of the trail is wanted; what is empty leaves nothing out."""

    who: int | None = None
    kind: str = ""
    words: str = ""
    since: date | None = None
    until: date | None = None
    before: int | None = None


def hidden(value: str) -> str:
    """What the trail keeps in place of something private: that it was there, and no more."""
    return "" if value in EMPTY else NOT_SHOWN


def trail_of(shop: Shop, asked: Asked) -> list[Line]:
    """What was changed in the shop, the latest first, at most fifty: one query; may be empty.

    The kinds of things are looked up once in the life of the process.
    """
    rows = LogEntry.objects.filter(additional_data__shop=shop.pk).select_related("actor")
    if asked.who is not None:
        rows = rows.filter(actor_id=asked.who)
    if asked.kind:
        rows = rows.filter(content_type__model=asked.kind)
    if asked.words:
        rows = rows.filter(object_repr__icontains=asked.words)
    if asked.since:
        rows = rows.filter(timestamp__date__gte=asked.since)
    if asked.until:
        rows = rows.filter(timestamp__date__lte=asked.until)
    if asked.before is not None:
        rows = rows.filter(pk__lt=asked.before)
    return [_line(row) for row in rows.order_by("-pk")[:AT_ONCE]]


def trail_about(model: type[models.Model], numbers: Collection[int]) -> list[dict[str, Any]]:
    """What was changed in rows of one kind, as plain values, the latest first (one query)."""
    rows = _lines_about(model, numbers).select_related("actor")
    lines = [_line(row) for row in rows.order_by("-pk")]
    return [
        {
            "at": line.at.isoformat(), "who": line.who, "done": line.done,
            "changes": [[each.field, each.before, each.after] for each in line.changes],
        }
        for line in lines
    ]  # fmt: skip


def forget_in_trail(model: type[models.Model], numbers: Collection[int], name: str) -> None:
    """Leave of rows of one kind that they were changed, when and by whom, and not what was said."""
    rows = list(_lines_about(model, numbers))
    for row in rows:
        row.changes = {field: _hidden_both(values) for field, values in (row.changes or {}).items()}
        row.object_repr, row.changes_text, row.serialized_data = name, "", None
    fields = ["changes", "object_repr", "changes_text", "serialized_data"]
    LogEntry.objects.bulk_update(rows, fields, batch_size=100)


def _lines_about(model: type[models.Model], numbers: Collection[int]) -> Any:
    return LogEntry.objects.filter(
        content_type=ContentType.objects.get_for_model(model),
        object_pk__in=[str(number) for number in numbers],
    )


def _hidden_both(values: Any) -> Any:
    if not isinstance(values, list):
        return NOT_SHOWN
    return [hidden(str(value)) for value in values]


def _line(row: Any) -> Line:
    model = ContentType.objects.get_for_id(row.content_type_id).model_class()
    actor = row.actor
    return Line(
        pk=row.pk,
        at=row.timestamp,
        who=actor.signs_as if actor else "the site itself",
        done=DONE.get(row.action, "changed"),
        kind=str(model._meta.verbose_name) if model else "",
        what=row.object_repr,
        changes=[] if row.action == 2 else list(_changes(model, row.changes or {})),
    )


def _changes(model: Any, changes: Mapping[str, Any]) -> Iterator[Change]:
    for field, values in changes.items():
        if field in ("id", "shop") or not isinstance(values, list):
            continue
        before, after = ("" if str(value) in EMPTY else str(value) for value in values)
        yield Change(_label(model, field), before, after)


def _label(model: Any, field: str) -> str:
    try:
        return str(model._meta.get_field(field).verbose_name)
    except (AttributeError, FieldDoesNotExist):
        return field.replace("_", " ")
