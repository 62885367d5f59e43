"""Low-level codes: in which order items are looked at, and how deep each one lies."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

Inputs = Mapping[str, Sequence[str]]  # what each item that is made is made from


def low_level_order(inputs: Inputs) -> tuple[str, ...]:
    """The items that are made, each before everything it is made from.

    Raises
    ------
    ValueError
        Naming an item that is needed to make itself.
    """
    is_done: dict[str, bool] = {}
    order: list[str] = []

    def visit(key: str) -> None:
        if is_done.get(key):
            return
        if key in is_done:
            # begun and not done: the way down has led back up
            raise ValueError(f"{key} is needed to make itself")
        is_done[key] = False
        for part in inputs.get(key, ()):
            visit(part)
        is_done[key] = True
        order.append(key)

    for output in inputs:
        visit(output)
    return tuple(key for key in reversed(order) if key in inputs)


def levels(inputs: Inputs) -> dict[str, int]:
    """The low-level code of each item: 0 on top, else one more than the deepest user's."""
    level = dict.fromkeys(inputs, 0)
    for output in low_level_order(inputs):
        for part in inputs[output]:
            level[part] = max(level.get(part, 0), level[output] + 1)
    return level
