"""Read a problem from JSON and refuse, by key and reason, whatever does not fit.

Engines describe their problems as frozen dataclasses. ``from_json`` builds one from
plain dictionaries: unknown keys, missing keys and values of the wrong kind are refused
with the path of the key; a ``ValueError`` of a ``__post_init__`` is passed on with it.
"""

from __future__ import annotations

import types
from dataclasses import MISSING, Field, fields, is_dataclass
from enum import Enum
from typing import Any, TypeVar, Union, get_args, get_origin, get_type_hints

T = TypeVar("T")


class ProblemRefused(ValueError):
    """A problem file that cannot be used: ``key`` says where, ``reason`` why."""

    def __init__(self, key: str, reason: str) -> None:
        self.key = key
        self.reason = reason
        super().__init__(f"{key}: {reason}")


def from_json(kind: type[T], raw: object, key: str = "problem") -> T:
    """Build the dataclass ``kind`` from what ``json.load`` gave.

    Raises
    ------
    ProblemRefused
        Naming the key and the reason.
    """
    if not isinstance(raw, dict):
        raise ProblemRefused(key, f"must be an object with keys, not {_spoken(raw)}")
    hints = get_type_hints(kind)
    known = {field.name: field for field in fields(kind)}  # type: ignore[arg-type]
    # Unknown keys first: a misspelled key is also a missing one, and this says which it was.
    for name in raw:
        if name not in known:
            raise ProblemRefused(f"{key}.{name}", f"unknown key; known: {', '.join(known)}")
    values = {
        name: _value(hints[name], raw[name], f"{key}.{name}") for name in known if name in raw
    }
    missing = [name for name, field in known.items() if name not in raw and _is_required(field)]
    if missing:
        raise ProblemRefused(f"{key}.{missing[0]}", "is missing")
    return _born(kind, values, key)


def to_json(value: object) -> Any:
    """The plain form of a dataclass, ready for ``json.dump``: the inverse of ``from_json``."""
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: to_json(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, dict):
        return {str(name): to_json(part) for name, part in value.items()}
    if isinstance(value, list | tuple):
        return [to_json(part) for part in value]
    # A set has no order of its own, and two files of one problem must be the same bytes.
    if isinstance(value, set | frozenset):
        return sorted(to_json(part) for part in value)
    return value


def _is_required(field: Field[Any]) -> bool:
    return field.default is MISSING and field.default_factory is MISSING


def _born(kind: type[T], values: dict[str, Any], key: str) -> T:
    try:
        return kind(**values)
    # It names a key further in than this one.
    except ProblemRefused:
        raise
    except ValueError as error:
        raise ProblemRefused(key, str(error)) from error


def _value(hint: Any, raw: Any, key: str) -> Any:
    origin, parts = get_origin(hint), get_args(hint)
    if origin in (Union, types.UnionType):
        return _either(parts, raw, key)
    if is_dataclass(hint):
        return from_json(hint, raw, key)  # type: ignore[arg-type]
    if isinstance(hint, type) and issubclass(hint, Enum):
        return _one_of(hint, raw, key)
    if origin in (tuple, list, frozenset):
        return _sequence(origin, parts, raw, key)
    if origin is dict:
        return _mapping(parts, raw, key)
    return _plain(hint, raw, key)


def _either(parts: tuple[Any, ...], raw: Any, key: str) -> Any:
    if raw is None and type(None) in parts:
        return None
    # Only "this or nothing" is used in the problems, so the first of the rest is the one.
    rest = [part for part in parts if part is not type(None)]
    return _value(rest[0], raw, key)


def _one_of(hint: type[Enum], raw: Any, key: str) -> Enum:
    try:
        return hint(raw)
    except ValueError:
        known = ", ".join(str(member.value) for member in hint)
        raise ProblemRefused(key, f"{raw!r} is not one of {known}") from None


def _sequence(origin: Any, parts: tuple[Any, ...], raw: Any, key: str) -> Any:
    if not isinstance(raw, list):
        raise ProblemRefused(key, f"must be a list, not {_spoken(raw)}")
    if origin is tuple and (len(parts) != 2 or parts[1] is not Ellipsis):
        if len(raw) != len(parts):
            raise ProblemRefused(key, f"must have {len(parts)} values, not {len(raw)}")
        hints: Any = parts
    else:
        hints = [parts[0]] * len(raw)
    pairs = enumerate(zip(hints, raw, strict=True))
    return origin(_value(hint, part, f"{key}[{i}]") for i, (hint, part) in pairs)


def _mapping(parts: tuple[Any, ...], raw: Any, key: str) -> dict[Any, Any]:
    if not isinstance(raw, dict):
        raise ProblemRefused(key, f"must be an object with keys, not {_spoken(raw)}")
    return {
        _key(parts[0], name, key): _value(parts[1], part, f"{key}.{name}")
        for name, part in raw.items()
    }


# JSON has only text for keys; the blocks of a night are numbers.
def _key(hint: Any, name: str, key: str) -> Any:
    if hint is not int:
        return name
    try:
        return int(name)
    except ValueError:
        raise ProblemRefused(f"{key}.{name}", "the key must be a whole number") from None


def _plain(hint: Any, raw: Any, key: str) -> Any:
    # bool is an int to Python, never to a reader of the file.
    fits = {
        bool: isinstance(raw, bool),
        int: isinstance(raw, int) and not isinstance(raw, bool),
        float: isinstance(raw, int | float) and not isinstance(raw, bool),
        str: isinstance(raw, str),
    }
    if not fits.get(hint, True):
        raise ProblemRefused(key, f"must be {_NAMES[hint]}, not {_spoken(raw)}")
    # Whole numbers are fine where a fraction may stand, but the engine then gets one kind.
    return float(raw) if hint is float else raw


_NAMES = {bool: "true or false", int: "a whole number", float: "a number", str: "text"}


def _spoken(raw: object) -> str:
    names = {dict: "an object", list: "a list", str: "text", bool: "true or false"}
    if raw is None:
        return "nothing"
    return names.get(type(raw), f"the number {raw}")
