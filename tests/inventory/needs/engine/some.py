"""Needs that several tests look at, and hypothesis strategies for any."""

from __future__ import annotations

from hypothesis import strategies as some

from inventory.measures.lengths import feet, inches
from inventory.needs.engine.problem import (
    Input,
    Item,
    Lot,
    NeedsProblem,
    Night,
    Recipe,
    Variant,
)


def tube(*lots: Lot, **changes: object) -> Item:
    """20 ft of tube, five in a bundle, ten days to come."""
    raw: dict[str, object] = {
        "key": "tube", "sticks": lots, "stick_length": feet(20), "kerf": inches("1/8"),
        "pack": 5, "lead_days": 10,
    }  # fmt: skip
    return Item(**{**raw, **changes})  # type: ignore[arg-type]


def sets_of_three(wanted: int = 30, **changes: object) -> NeedsProblem:
    """A set is a head, a post and a wire; head and post are cut from tube."""
    raw: dict[str, object] = {
        "items": (
            Item("set", on_hand=3),
            Item("head", on_rack=6),
            Item("post", on_rack=2),
            tube(Lot(feet(20), 4)),
            Item("wire", on_hand=7, last_order="2030-11-01", lead_days=3),
        ),
        "recipes": (
            Recipe("set", (Input("head", 1), Input("post", 1), Input("wire", 1))),
            Recipe(
                "head",
                (Input("tube", 1, inches(34)), Input("tube", 1, inches(16))),
                scrap_per_mille=50,
            ),
            Recipe("post", (Input("tube", 1, inches(90)),)),
        ),
        "variants": (Variant("set", wanted),),
        "nights": tuple(Night(f"2030-11-{day}", sets=3) for day in range(10, 28, 2)),
        "today": "2030-10-30",
    }
    return NeedsProblem(**{**raw, **changes})  # type: ignore[arg-type]


def two_variants(tall: int = 20, short: int = 10, **on_hand: int) -> NeedsProblem:
    """A tall and a short set share the head; each has its own post, all bought."""
    keys = ("tall", "short", "head", "long post", "short post")
    return NeedsProblem(
        tuple(Item(key, on_hand=on_hand.get(key.replace(" ", "_"), 0)) for key in keys),
        (
            Recipe("tall", (Input("head", 1), Input("long post", 1))),
            Recipe("short", (Input("head", 1), Input("short post", 1))),
        ),
        (Variant("tall", tall), Variant("short", short)),
    )


@some.composite
def problems(draw: some.DrawFn) -> NeedsProblem:
    """Two variants over shared parts three levels deep, some cut from tube, some in batches."""
    count = some.integers(0, 12)
    items = [Item(key, draw(count), draw(count)) for key in ("v", "w", "a", "b")]
    items += [Item("x", draw(count), pack=draw(some.integers(1, 6))), Item("y", draw(count))]
    lots = (Lot(feet(20), draw(some.integers(0, 3))), Lot(feet(5), draw(count), is_drop=True))
    items.append(tube(*lots, pack=draw(some.integers(1, 3))))
    few = some.integers(1, 3)
    scrap = some.sampled_from([0, 0, 30, 200])
    recipes = (
        Recipe("v", (Input("a", draw(few)), Input("x", draw(few))), 1, draw(scrap)),
        Recipe("w", (Input("a", draw(few)), Input("b", draw(few)))),
        Recipe("a", (Input("b", draw(few)), Input("tube", 1, inches(34))), draw(few), draw(scrap)),
        Recipe("b", (Input("y", draw(few)), Input("tube", draw(few), inches(16))), draw(few)),
    )
    nights = tuple(
        Night(f"2030-12-{day:02}", sets=draw(some.integers(0, 4))) for day in range(1, 20, 3)
    )
    wanted = (Variant("v", draw(count)), Variant("w", draw(count)))
    return NeedsProblem(tuple(items), recipes, wanted, nights, "2030-11-20")
