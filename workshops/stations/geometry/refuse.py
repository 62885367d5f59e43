"""Refusals shared by the values of a build sheet: ``ValueError`` naming the field.

``inventory.engines.strict`` puts the path of the value in front of what is said here.
"""

from __future__ import annotations


def positive(value: object, *names: str) -> None:
    """Refuse when a named field of ``value`` is not more than 0."""
    for name in names:
        if getattr(value, name) <= 0:
            raise ValueError(f"{name} must be more than 0, not {getattr(value, name)}")


def written(value: object, *names: str) -> None:
    """Refuse when a named text of ``value`` is empty."""
    for name in names:
        if not getattr(value, name).strip():
            raise ValueError(f"{name} must not be empty")


def belongs(name: str, value: int, *, wanted: bool, kind: str) -> None:
    """Refuse a size that this kind of stock lacks, or has where it means nothing."""
    spoken = kind.replace("_", " ")
    if wanted and value <= 0:
        raise ValueError(f"{name} must be more than 0 for {spoken}, not {value}")
    if not wanted and value:
        raise ValueError(f"{name} has no meaning for {spoken}; leave it out")
