"""Racks that empty and fill, stations that starve and drown: by hand, without a database."""

from __future__ import annotations

import pytest

from workshops.flow.engine.racks import Rack, RackFlow, State, Step, fares_of, flow_of

WIRE, ROLLED = Rack("wire", "wire", 12, 40), Rack("rolled", "rolled", 38, 40)
FILL = Step("f", "fill", "set", 0.5, {"rolled": 1.0})


def roll(rate: float) -> Step:
    return Step("r", "roll", "rolled", rate, {"wire": 2.0})


def fares(station: str, *steps: Step, racks: tuple[Rack, ...] = (WIRE, ROLLED)):
    return fares_of(station, flow_of(racks, steps), steps)


def test_what_comes_and_goes_is_summed_over_all_steps() -> None:
    flow = flow_of([WIRE, ROLLED], [roll(1.0), FILL])
    assert (flow["wire"].comes, flow["wire"].goes) == (0, 2)
    assert (flow["rolled"].comes, flow["rolled"].goes) == (1, 0.5)
    assert flow["wire"].empty_in == 6
    assert flow["rolled"].full_in == 4
    assert flow["wire"].full_in is None


def test_a_station_drowns_whose_rack_behind_it_fills_first() -> None:
    told = fares("roll", roll(1.0), FILL)
    assert (told.state, told.rack, told.minutes) == (State.DROWNS, "rolled", 4)


def test_a_station_starves_whose_rack_before_it_empties() -> None:
    told = fares("roll", roll(1.0), racks=(WIRE, Rack("rolled", "rolled", 0)))
    assert (told.state, told.rack, told.minutes) == (State.STARVES, "wire", 6)


def test_an_empty_rack_starves_at_once_even_while_as_much_comes_as_goes() -> None:
    empty = Rack("rolled", "rolled", 0, 40)
    told = fares("fill", roll(0.5), FILL, racks=(WIRE, empty))
    assert (told.state, told.minutes) == (State.STARVES, 0)


def test_trouble_in_an_hour_is_none_yet() -> None:
    assert fares("roll", roll(0.05), FILL).state is State.RUNS


def test_a_station_at_which_nobody_works_neither_starves_nor_drowns() -> None:
    assert fares("roll", roll(0.0), racks=(Rack("wire", "wire", 0), ROLLED)).state is State.RUNS


@pytest.mark.parametrize("flow", [RackFlow(WIRE), RackFlow(Rack("x", "x", 3), comes=2, goes=2)])
def test_a_rack_in_balance_has_no_end(flow: RackFlow) -> None:
    assert (flow.empty_in, flow.full_in) == (None, None)
