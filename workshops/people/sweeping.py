"""Every text of a shop, searched for the words that mean a person, and rewritten without them.

Nothing has to be registered: tables are found through the models, and those that belong to
a shop through their way to it. What a seal guards stays as it is, and is counted.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from functools import cache
from typing import Any

from auditlog.models import LogEntry
from django.apps import apps
from django.db import DatabaseError, models, transaction
from django.db.models import Q
from django.db.models.functions import Cast

from inventory.places.models import Shop
from workshops.people.erasing import Erasing
from workshops.people.remains import SIGNATURES

HOUSE = ("inventory.", "workshops.")
# The trail is a library's table: whose a row is stands beside it.
TRAIL_OF = "additional_data__shop"
# The trail is the longest table of all: its other texts are keys, or empty as the site sets it.
TRAIL_SAYS = ("object_repr", "changes")


def sweep(erasing: Erasing) -> dict[str, int]:
    """Exchange the person's words for the number wherever they stand.

    Gives how many rows of each kind stay as they were, because a seal refuses the change:
    one query a table, and one a row that names the person.
    """
    stayed: dict[str, int] = {}
    for model, way, fields in tables():
        for row in _naming(model, way, fields, erasing):
            if not _rewritten(model, row, fields, erasing):
                words = f"{model._meta.verbose_name_plural} ({model._meta.app_config.verbose_name})"
                stayed[words] = stayed.get(words, 0) + 1
    return stayed


def tables() -> Iterator[tuple[type[models.Model], str, list[Any]]]:
    """Every table of a shop with texts, how its rows say whose they are, and those texts."""
    for model in apps.get_models():
        way = TRAIL_OF if model is LogEntry else way_to_shop(model)
        fields = [field for field in model._meta.concrete_fields if _is_text(field)]
        if model is LogEntry:
            fields = [field for field in fields if field.name in TRAIL_SAYS]
        if way and fields:
            yield model, way, fields


@cache
def way_to_shop(model: type[models.Model]) -> str:
    """How a row says which shop it is of: ``shop``, ``night__shop``; empty for one of no shop."""
    if model is Shop or not model.__module__.startswith(HOUSE):
        return ""
    required = [field for field in model._meta.concrete_fields
                if isinstance(field, models.ForeignKey) and not field.null]  # fmt: skip
    for field in required:
        if field.related_model is Shop:
            return str(field.name)
    # A row of a child's own class leads back to itself only through an empty field.
    ways = [(field.name, way_to_shop(field.related_model)) for field in required
            if field.related_model is not model]  # fmt: skip
    return next((f"{name}__{way}" for name, way in ways if way), "")


def _is_text(field: Any) -> bool:
    is_words = isinstance(field, models.CharField | models.TextField | models.JSONField)
    # What is chosen from a list, or stands in an address, is no free text.
    is_fixed = bool(field.choices) or field.unique or isinstance(field, models.SlugField)
    name = f"{field.model._meta.label}.{field.name}"
    return is_words and not is_fixed and name not in SIGNATURES


def _naming(
    model: type[models.Model], way: str, fields: list[Any], erasing: Erasing
) -> list[dict[str, Any]]:
    """Number and texts of the rows that name the person (one query)."""
    if not erasing.words:
        return []
    rows = model._base_manager.filter(**{way: erasing.shop.pk})
    named = Q()
    for field in fields:
        text = f"{field.name}_as_text"
        rows = rows.annotate(**{text: Cast(field.name, models.TextField())})
        for word in erasing.words:
            # In JSON a letter such as é may stand as its number.
            is_json = isinstance(field, models.JSONField)
            for spelled in {word, json.dumps(word)[1:-1]} if is_json else {word}:
                named |= Q(**{f"{text}__icontains": spelled})
    return list(rows.filter(named).order_by("pk").values("pk", *(field.name for field in fields)))


def _rewritten(
    model: type[models.Model], row: dict[str, Any], fields: list[Any], erasing: Erasing
) -> bool:
    """Whether the row names the person no more; not where the database refuses the change."""
    new: dict[str, Any] = {}
    for field in fields:
        text = erasing.without_in(row[field.name])
        if text != row[field.name]:
            is_short = isinstance(text, str) and field.max_length
            new[field.name] = text[: field.max_length] if is_short else text
    if not new:
        return True
    try:
        with transaction.atomic():
            model._base_manager.filter(pk=row["pk"]).update(**new)
    except DatabaseError:
        return False
    return True
