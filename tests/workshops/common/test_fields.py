"""The form field for lengths."""

from __future__ import annotations

import pytest
from django.core.exceptions import ValidationError
from hypothesis import given
from hypothesis import strategies as st

from inventory.measures.lengths import Units, feet, inches, read_length
from workshops.common.fields import LengthField, spell_exactly


@pytest.mark.parametrize(
    ("typed", "length"),
    [
        ("34", inches(34)), ("1 1/2", inches("1 1/2")), ("8 ft 6 in", feet(8) + inches(6)),
        ("610 mm", 610_000), ("  ", None), (None, None),
    ],
)  # fmt: skip
def test_a_length_is_read_as_people_type_it(typed: str | None, length: int | None):
    assert LengthField(required=False).clean(typed) == length


def test_a_bare_number_is_in_the_shops_units():
    assert LengthField(units=Units.MILLIMETRE).clean("610") == 610_000


@pytest.mark.parametrize("typed", ["", "long", "-3", "0", "1/0"])
def test_what_is_no_length_is_refused(typed: str):
    with pytest.raises(ValidationError):
        LengthField().clean(typed)


def test_a_length_typed_another_way_has_not_changed():
    field = LengthField()
    assert not field.has_changed(inches("1 1/2"), "1.5 in")
    assert field.has_changed(inches("1 1/2"), "1 5/8")
    assert field.has_changed(inches(1), "long")


@given(st.integers(1, 10_000_000), st.sampled_from(list(Units)))
def test_what_a_form_shows_is_read_back_as_the_same_length(micrometres: int, units: Units):
    assert read_length(spell_exactly(micrometres, units), units) == micrometres


@pytest.mark.parametrize(
    ("micrometres", "spelled"),
    [(inches("46 5/8"), "46 5/8 in"), (2_108, "0.083 in"), (1_234, "1.234 mm"), (300, "0.3 mm")],
)
def test_a_form_shows_the_plainest_spelling(micrometres: int, spelled: str):
    assert spell_exactly(micrometres, Units.INCH) == spelled
