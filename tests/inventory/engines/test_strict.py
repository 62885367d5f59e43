"""Reading problems strictly: every refusal names its key and its reason."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from enum import Enum

import pytest
from hypothesis import given
from hypothesis import strategies as some

from inventory.engines.strict import ProblemRefused, from_json, to_json


class Kind(Enum):
    STEEL = "steel"
    STRAW = "straw"


@dataclass(frozen=True)
class Leaf:
    name: str
    weight: int = 1

    def __post_init__(self) -> None:
        if self.weight < 0:
            raise ValueError("weight must not be less than 0")


@dataclass(frozen=True)
class Tree:
    leaves: tuple[Leaf, ...]
    kind: Kind = Kind.STEEL
    best: Leaf | None = None
    counts: dict[int, int] = field(default_factory=dict)
    tags: frozenset[str] = frozenset()
    span: tuple[int, float] = (0, 1.0)
    is_new: bool = False
    share: float = 0.5


WHOLE = {
    "leaves": [{"name": "a"}, {"name": "b", "weight": 3}],
    "kind": "straw",
    "best": {"name": "c"},
    "counts": {"3": 4},
    "tags": ["x", "y"],
    "span": [2, 3],
    "is_new": True,
    "share": 1,
}


def test_a_whole_problem_is_read():
    tree = from_json(Tree, WHOLE)
    assert tree.leaves == (Leaf("a"), Leaf("b", 3))
    assert (tree.kind, tree.best, tree.counts) == (Kind.STRAW, Leaf("c"), {3: 4})
    assert (tree.tags, tree.span, tree.is_new) == (frozenset({"x", "y"}), (2, 3.0), True)
    assert isinstance(tree.share, float)


def test_what_may_be_left_out_has_its_default():
    assert from_json(Tree, {"leaves": []}) == Tree(())


@pytest.mark.parametrize(
    ("changes", "key", "reason"),
    [
        ({"leafs": []}, "problem.leafs", "unknown key; known: leaves, kind"),
        ({"leaves": "a"}, "problem.leaves", "must be a list, not text"),
        ({"leaves": [3]}, "problem.leaves[0]", "must be an object with keys, not the number 3"),
        ({"leaves": [{}]}, "problem.leaves[0].name", "is missing"),
        ({"leaves": [{"name": 3}]}, "problem.leaves[0].name", "must be text, not the number 3"),
        ({"leaves": [{"name": "a", "weight": True}]}, "problem.leaves[0].weight", "a whole number"),
        ({"leaves": [{"name": "a", "weight": -1}]}, "problem.leaves[0]", "not be less than 0"),
        ({"kind": "wood"}, "problem.kind", "'wood' is not one of steel, straw"),
        ({"best": 1}, "problem.best", "must be an object with keys"),
        ({"counts": {"a": 1}}, "problem.counts.a", "the key must be a whole number"),
        ({"counts": []}, "problem.counts", "must be an object with keys, not a list"),
        ({"span": [1]}, "problem.span", "must have 2 values, not 1"),
        ({"is_new": 1}, "problem.is_new", "must be true or false, not the number 1"),
        ({"share": None}, "problem.share", "must be a number, not nothing"),
    ],
)
def test_what_does_not_fit_is_refused_by_key_and_reason(changes, key, reason):
    with pytest.raises(ProblemRefused) as refused:
        from_json(Tree, {**WHOLE, **changes})
    assert refused.value.key == key
    assert reason in refused.value.reason


@pytest.mark.parametrize("raw", [None, 3, "tree", [], True])
def test_a_file_that_is_no_object_is_refused(raw):
    with pytest.raises(ProblemRefused, match="problem: must be an object with keys"):
        from_json(Tree, raw)


def test_an_empty_value_is_read_where_it_is_allowed():
    assert from_json(Tree, {**WHOLE, "best": None}).best is None


leaves = some.builds(Leaf, some.text(), some.integers(0, 9))


@given(
    some.builds(
        Tree,
        some.lists(leaves).map(tuple),
        some.sampled_from(Kind),
        some.none() | leaves,
        some.dictionaries(some.integers(), some.integers()),
        some.frozensets(some.text()),
    )
)
def test_written_and_read_is_the_same(tree):
    assert from_json(Tree, json.loads(json.dumps(to_json(tree)))) == tree
