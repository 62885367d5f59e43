"""Filling a row from named facts, and refusing what it cannot hold in one sentence."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Any, TypeVar

from django.core.exceptions import ValidationError
from django.db.models import Model

from workshops.stations.refusals import StationsRefused, UnknownField

Row = TypeVar("Row", bound=Model)


def fill(row: Row, fields: Mapping[str, Any], known: Collection[str]) -> Row:
    """The row with those facts set, not yet saved.

    Raises
    ------
    UnknownField
        Naming a fact that the row does not keep.
    """
    for name, value in fields.items():
        if name not in known:
            raise UnknownField(f"{name} is not kept here.", name)
        setattr(row, name, value)
    return row


def check(row: Model) -> None:
    """Refuse the row when a field or a constraint is broken.

    Raises
    ------
    StationsRefused
        With the first field that is wrong and what to do.
    """
    try:
        row.full_clean()
    except ValidationError as error:
        field, sentences = next(iter(error.message_dict.items()))
        # A constraint over several fields writes its own sentence.
        if field == "__all__":
            raise StationsRefused(sentences[0]) from error
        label = field.replace("_", " ").capitalize()
        raise StationsRefused(f"{label}: {sentences[0]}", field) from error
