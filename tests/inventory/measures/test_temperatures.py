"""Degrees of two kinds, exactly."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.measures.temperatures import (
    TemperatureRefused,
    fahrenheit,
    in_degrees,
    spell_temperature,
    step_in_degrees,
)


@pytest.mark.parametrize(("celsius", "same"), [("0", "32"), ("100", "212"), ("65.5", "149.9")])
def test_water_freezes_and_boils_where_it_should(celsius, same):
    assert fahrenheit(Decimal(celsius), "C") == Decimal(same)


@given(st.integers(-500, 5000))
def test_tenths_of_a_degree_go_there_and_back(tenths):
    celsius = Decimal(tenths) / 10
    assert in_degrees(fahrenheit(celsius, "C"), "C") == celsius


@pytest.mark.parametrize(
    ("value", "degrees", "spelled"),
    [("150", "F", "150 °F"), ("151.5", "F", "151.5 °F"), ("150.08", "C", "65.6 °C"),
     ("32", "C", "0 °C")],
)  # fmt: skip
def test_degrees_are_spelled_as_the_shop_reads_them(value, degrees, spelled):
    assert spell_temperature(Decimal(value), degrees) == spelled


@pytest.mark.parametrize(("value", "degrees"), [("-61", "F"), ("1000", "F"), ("600", "C")])
def test_what_no_probe_shows_is_refused(value, degrees):
    with pytest.raises(TemperatureRefused):
        fahrenheit(Decimal(value), degrees)


def test_a_step_of_nine_degrees_is_a_step_of_five():
    assert step_in_degrees(Decimal(9), "C") == 5
    assert step_in_degrees(Decimal(9), "F") == 9
