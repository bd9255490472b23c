"""How what a person wrote is said back."""

from datetime import date

import pytest

from inkline.source.values import (
    choice_in_words,
    did_you_mean_choice,
    is_number,
    is_whole,
    range_text,
    text_of_value,
)


def test_true_and_false_are_no_numbers():
    assert [is_whole(one) for one in (3, -1, 3.0, True, "3")] == [True, True, False, False, False]
    numbers = (3, 0.5, True, "3", float("inf"), float("nan"))
    assert [is_number(one) for one in numbers] == [True, True, False, False, False, False]


@pytest.mark.parametrize(
    ("low", "high", "text"),
    [
        (0.5, 3, "from 0.5 to 3"),
        (0.0, 1.0, "from 0 to 1"),
        (1, 1, "of 1"),
        (-0.1, 1, "from -0.1 to 1"),
    ],
)
def test_a_range_is_said_without_needless_digits(low, high, text):
    assert range_text(low, high) == text


@pytest.mark.parametrize(
    ("words", "text"),
    [(["a"], '"a"'), (["a", "b"], '"a" or "b"'), (["a", "b", "c"], '"a", "b" or "c"')],
)
def test_choices_are_listed_with_or(words, text):
    assert choice_in_words(words) == text


@pytest.mark.parametrize(
    ("value", "text"),
    [
        ("a", '"a"'),
        (True, "true"),
        (False, "false"),
        (1.5, "1.5"),
        ([1, "a"], '[1, "a"]'),
        ({"px": 5, "b": [True]}, "{px = 5, b = [true]}"),
        (date(2027, 1, 2), "2027-01-02"),
        ("a\nb", '"a\\nb"'),
    ],
)
def test_a_value_is_said_as_it_was_written(value, text):
    assert text_of_value(value) == text


@pytest.mark.parametrize("value", ["a" * 1000, list(range(1000)), {str(n): n for n in range(99)}])
def test_a_long_value_is_cut(value):
    text = text_of_value(value)
    assert len(text) == 60
    assert text.endswith("...")


def test_what_is_meant_is_asked_of_texts_alone():
    assert did_you_mean_choice("ISO", ("none", "iso")) == '; did you mean "iso"?'
    assert did_you_mean_choice("zzzz", ("none", "iso")) == ""
    assert did_you_mean_choice(3, ("none", "iso")) == ""


@pytest.mark.parametrize("day", ["tuesday", "tuesdy", "Wedensday", "thursay"])
def test_a_day_that_is_no_choice_is_no_misspelt_other(day):
    assert did_you_mean_choice(day, ("sunday", "monday", "saturday")) == ""


def test_a_misspelt_day_is_asked_for():
    choices = ("sunday", "monday", "saturday")
    assert did_you_mean_choice("saterday", choices) == '; did you mean "saturday"?'
