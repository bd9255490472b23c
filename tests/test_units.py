"""Lengths as people write them.

An inch is 2.54 cm and 72 pt (CSS Values and Units Module Level 3, "Absolute lengths").
"""

import math

import pytest

from inkline.errors import UnitError
from inkline.units import Length, Unit, length_from_text


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("5 pt", 5.0, Unit.PT),
        ("0.4mm", 0.4, Unit.MM),
        (" 40 um ", 40.0, Unit.UM),
        ("40 µm", 40.0, Unit.UM),
        ("40 μm", 40.0, Unit.UM),
        (".5 in", 0.5, Unit.INCH),
        ("-3 px", -3.0, Unit.PX),
        ("+2. %", 2.0, Unit.PERCENT),
        ("1e1 cm", 10.0, Unit.CM),
    ],
)
def test_a_length_is_a_number_and_a_unit(text, value, unit):
    assert length_from_text(text) == Length(value, unit)


@pytest.mark.parametrize(
    "length", [Length(5, Unit.PT), Length(0.4, Unit.MM), Length(-2.5, Unit.PERCENT)]
)
def test_a_length_is_read_as_it_is_written(length):
    assert length_from_text(str(length)) == length
    assert length_from_text(length) is length


@pytest.mark.parametrize(
    "text", ["5", "pt", "5 pc", "5 pt 3", "1,5 mm", "", 5, 5.0, None, ["5 pt"]]
)
def test_what_has_no_unit_is_no_length(text):
    with pytest.raises(UnitError, match="a length needs a number and a unit, such as") as caught:
        length_from_text(text)
    assert caught.value.text == text


@pytest.mark.parametrize(
    ("text", "px"),
    [
        ("1 in", 300.0),
        ("72 pt", 300.0),
        ("2.54 cm", 300.0),
        ("25.4 mm", 300.0),
        ("25400 um", 300.0),
    ],
)
def test_an_inch_has_as_many_pixels_as_there_are_to_an_inch(text, px):
    assert length_from_text(text).px(ppi=300) == pytest.approx(px, rel=1e-14)


def test_pixels_are_pixels_and_percents_are_of_the_whole():
    assert Length(7, Unit.PX).px(ppi=300) == 7
    assert Length(2.4, Unit.PERCENT).px(ppi=300, whole_px=2500) == pytest.approx(60, rel=1e-14)
    with pytest.raises(
        UnitError, match="a length with a unit is required here, not the percentage"
    ):
        Length(2, Unit.PERCENT).px(ppi=300)


def test_only_what_has_a_size_of_its_own_has_millimetres():
    assert Length(1, Unit.INCH).mm() == 25.4
    assert Length(72, Unit.PT).mm() == pytest.approx(25.4, rel=1e-14)
    for unit in (Unit.PX, Unit.PERCENT):
        with pytest.raises(UnitError, match="a length in mm, um, cm, pt or in is required here"):
            Length(1, unit).mm()


@pytest.mark.parametrize("value", [math.inf, -math.inf, math.nan])
def test_a_length_is_finite(value):
    with pytest.raises(UnitError, match="a length must be a finite number"):
        Length(value, Unit.MM)
