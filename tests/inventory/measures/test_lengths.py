"""Lengths as people type and read them."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as some

from inventory.measures.lengths import (
    LengthRefused,
    Units,
    feet,
    inches,
    millimetres,
    read_length,
    spell_inches,
    spell_length,
)


def test_an_inch_is_25_4_millimetres_exactly():
    """International yard and pound agreement, 1959."""
    assert inches(1) == millimetres(Fraction("25.4")) == 25_400
    assert feet(1) == 12 * inches(1)


@pytest.mark.parametrize(
    ("typed", "micrometres"),
    [
        ("34", 863_600),
        ("34 in", 863_600),
        (".083", 2_108),
        (".5 mm", 500),
        ('34"', 863_600),
        ("1 1/2", 38_100),
        ("1-1/2 in", 38_100),
        ("3/32", 2_381),
        ("8 ft", 2_438_400),
        ("8'", 2_438_400),
        ("8 ft 6 in", 2_590_800),
        ("8' 6 1/2\"", 2_603_500),
        ("8.5 ft", 2_590_800),
        ("610 mm", 610_000),
        ("2.5 m", 2_500_000),
        ("12.7 cm", 127_000),
        ("  16  ", 406_400),
        ("16 INCHES", 406_400),
    ],
)
def test_what_people_type_is_read(typed, micrometres):
    assert read_length(typed, Units.INCH) == micrometres


def test_a_bare_number_is_in_the_shops_units():
    assert read_length("610", Units.MILLIMETRE) == millimetres(610)
    assert read_length("610", Units.INCH) == inches(610)


@pytest.mark.parametrize(
    "typed",
    [
        "",
        " ",
        "long",
        "-3",
        "3/0",
        "1 2",
        "8 ft 6 mm",
        "6 in 8 ft",
        "1,5",
        "3/",
        "5 5 1/2",
        ".",
        "1 .5",
    ],
)
def test_what_is_no_length_is_refused_with_an_example(typed):
    with pytest.raises(LengthRefused, match="Write 34, 1 1/2, 8 ft 6 in or 610 mm"):
        read_length(typed, Units.INCH)


@pytest.mark.parametrize("typed", ["0", "0 in", "0/4", "0 ft 0 in"])
def test_no_length_at_all_is_refused(typed):
    with pytest.raises(LengthRefused, match="more than nothing"):
        read_length(typed, Units.INCH)


@pytest.mark.parametrize(
    ("micrometres", "spelt"),
    [
        (0, "0"),
        (25_400, "1"),
        (38_100, "1 1/2"),
        (3_175, "1/8"),
        (1_184_275, "46 5/8"),
        (396, "0"),
        (397, "1/32"),  # 1/64 in as it is read
        (1_191, "1/16"),
        (-3_175, "-1/8"),
        (-100, "0"),
    ],
)
def test_inches_are_spelt_to_the_nearest_thirty_second(micrometres, spelt):
    assert spell_inches(micrometres) == spelt


@pytest.mark.parametrize(
    ("micrometres", "spelt"),
    [(610_000, "610 mm"), (1_184_275, "1184.3 mm"), (50, "0 mm"), (-610_100, "-610.1 mm")],
)
def test_millimetres_are_spelt_to_the_tenth(micrometres, spelt):
    assert spell_length(micrometres, Units.MILLIMETRE) == spelt


def test_inches_carry_their_unit():
    assert spell_length(inches("46 5/8"), Units.INCH) == "46 5/8 in"


@given(some.integers(1, 20_000))
def test_thirty_seconds_survive_being_spelt_and_read(count):
    length = inches(Fraction(count, 32))
    assert read_length(spell_length(length, Units.INCH), Units.INCH) == length


@given(some.integers(1, 100_000))
def test_tenths_of_a_millimetre_survive_being_spelt_and_read(tenths):
    length = tenths * 100
    assert read_length(spell_length(length, Units.MILLIMETRE), Units.INCH) == length
