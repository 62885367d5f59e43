"""What a piece is worth, worked out by hand: a set is 100 points."""

from __future__ import annotations

import pytest

from workshops.nights.worth import Making, Worth

# A set takes a post (10 minutes) and a head (30); putting it together takes 10 more: 50 in all.
MAKING = {
    "post": Making(10, {}),
    "head": Making(30, {}),
    "set": Making(10, {"post": 1, "head": 1}),
}


def worth(wanted: int = 10, **on_rack: int) -> Worth:
    return Worth(making=MAKING, wanted={"set": wanted}, on_rack=on_rack)


def test_a_piece_carries_the_share_of_work_in_it() -> None:
    assert worth().work_in("set") == 50
    assert worth().of("post") == pytest.approx(100 * 10 / 50 * 0.8)
    assert worth().of("head") == pytest.approx(100 * 30 / 50 * 0.8)


def test_all_parts_of_a_set_together_are_worth_less_than_the_set() -> None:
    assert worth().of("post") + worth().of("head") < 100


def test_a_full_rack_lowers_the_worth_to_a_tenth_and_no_further() -> None:
    assert worth(post=5).of("post") == pytest.approx(worth().of("post") * (0.1 + 0.9 * 0.5))
    assert worth(post=10).of("post") == pytest.approx(worth().of("post") * 0.1)
    assert worth(post=500).of("post") == worth(post=10).of("post")


def test_what_no_wanted_set_uses_is_worth_nothing() -> None:
    assert worth().of("rods") == 0.0
    assert Worth(MAKING | {"rods": Making(5, {})}, {"set": 1}, {}).of("rods") == 0.0


def test_what_is_bought_carries_no_work() -> None:
    bought = MAKING | {"set": Making(10, {"post": 1, "bolt": 2})}
    assert Worth(bought, {"set": 1}, {}).of("bolt") == 0.0


def test_two_posts_a_set_count_twice() -> None:
    making = MAKING | {"set": Making(10, {"post": 2, "head": 1})}
    assert Worth(making, {"set": 3}, {}).needed["post"] == 6
    assert Worth(making, {"set": 3}, {}).work_in("set") == 60


def test_an_item_made_from_itself_is_refused_by_name() -> None:
    loop = {"set": Making(1, {"head": 1}), "head": Making(1, {"set": 1})}
    with pytest.raises(ValueError, match="made from itself"):
        _ = Worth(loop, {"set": 1}, {}).needed
