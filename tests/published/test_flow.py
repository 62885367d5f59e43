"""The flow of pieces against queueing theory."""

from __future__ import annotations

import pytest

from workshops.flow.engine.racks import Rack, RackFlow, pieces_waiting


def test_pieces_on_a_rack_are_rate_times_time() -> None:
    """Little's law, L = lambda W: 24 an hour, a sixth of an hour each, so 4.

    Source: R. Bronson, Theory and Problems of Operations Research, 1982, example 23.3.
    """
    assert pieces_waiting(24 / 60, 60 / 6) == pytest.approx(4)


def test_a_rack_in_balance_keeps_each_piece_as_long_as_the_law_says() -> None:
    """Little's law backwards, W = L / lambda, on the same figures (Bronson 1982, ex. 23.3)."""
    rack = RackFlow(Rack("wire", "wire", 4), comes=24 / 60, goes=24 / 60)
    assert rack.waits == pytest.approx(10)
    assert rack.empty_in is None


@pytest.mark.parametrize(("rate", "minutes"), [(-1, 1), (1, -1)])
def test_no_rate_and_no_time_is_negative(rate: float, minutes: float) -> None:
    """The law is stated for rates and times that are not negative (definition)."""
    with pytest.raises(ValueError, match="not negative"):
        pieces_waiting(rate, minutes)
