"""Faults in sentences: their order, what is nearest to a name, and lengths that fit."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inkline.source.faults import (
    Fault,
    RecipeError,
    did_you_mean,
    text_on_one_line,
    text_rounded_down,
    text_rounded_up,
)


def fault(source, line, sentence="s"):
    return Fault(source=source, line=line, key="k", sentence=sentence)


def test_faults_come_file_by_file_in_the_order_of_their_lines_and_each_once():
    given_faults = [fault("b", 1), fault("a", 0), fault("a", 9), fault("a", 2), fault("a", 9)]
    error = RecipeError(given_faults)
    assert [(one.source, one.line) for one in error.faults] == [
        ("a", 2),
        ("a", 9),
        ("a", 0),
        ("b", 1),
    ]
    assert str(error) == "a, line 2: s\na, line 9: s\na: s\nb, line 1: s"


def test_the_nearest_name_is_asked_for():
    assert did_you_mean("titel", ["title", "number"]) == '; did you mean "title"?'
    assert did_you_mean("zzz", ["title", "number"]) == ""
    assert did_you_mean("a", []) == ""


def test_a_text_stands_on_one_line():
    assert text_on_one_line("a b") == "a b"
    assert text_on_one_line("a\nb\x00") == "a\\nb\\x00"


@pytest.mark.parametrize(
    ("value", "down", "up"),
    [(22.61, "22.6", "22.7"), (0.12345, "0.123", "0.124"), (1251, "1250", "1260")],
)
def test_a_number_is_rounded_to_three_digits_to_its_own_side(value, down, up):
    assert (text_rounded_down(value), text_rounded_up(value)) == (down, up)


@given(st.floats(1e-3, 1e5))
def test_what_is_rounded_stays_on_its_side_and_near(value):
    low, high = float(text_rounded_down(value)), float(text_rounded_up(value))
    assert low <= value * (1 + 1e-5)
    assert high >= value * (1 - 1e-5)
    assert low == pytest.approx(value, rel=0.011)
    assert high == pytest.approx(value, rel=0.011)
